//! How many connections there may be, and how long they may take.

use std::net::IpAddr;
use std::num::NonZeroU32;
use std::time::Duration;

use clap::Args;
use rustix::process::{Resource, getrlimit};

use crate::limits::block;

/// For the flags and variables see `waxend serve --help`. Long-lived streams have no cap of their own: the server has
/// none.
#[derive(Debug, Clone, Args)]
pub struct ConnectionArgs {
    /// Connections open at once; fewer where the system allows the server fewer open files.
    #[arg(
        long,
        env = "WAXEND_LIMIT_CONNECTIONS",
        default_value = "512",
        value_name = "N"
    )]
    pub limit_connections: NonZeroU32,
    /// Connections open at once from one address.
    #[arg(
        long,
        env = "WAXEND_LIMIT_CONNECTIONS_ADDRESS",
        default_value = "64",
        value_name = "N"
    )]
    pub limit_connections_address: NonZeroU32,
    /// Connections open at once from a trusted proxy.
    #[arg(
        long,
        env = "WAXEND_LIMIT_CONNECTIONS_PROXY",
        default_value = "384",
        value_name = "N"
    )]
    pub limit_connections_proxy: NonZeroU32,
    /// Addresses of reverse proxies, which bring the connections of many; separated by commas. The limits for an address
    /// then count that of the client, which the proxy has to add to `Forwarded` or `X-Forwarded-For`.
    #[arg(
        long = "trusted-proxy",
        env = "WAXEND_TRUSTED_PROXIES",
        value_delimiter = ',',
        value_name = "ADDRESS"
    )]
    pub trusted_proxies: Vec<IpAddr>,
    /// Seconds a new connection may take until its first request has begun, TLS included.
    #[arg(
        long,
        env = "WAXEND_WAIT_HEADER",
        default_value = "10",
        value_name = "SECONDS"
    )]
    pub wait_header: NonZeroU32,
    /// Seconds of waiting for the next kilobyte of a request's body.
    #[arg(long, env = "WAXEND_WAIT_BODY", default_value = "30", value_name = "SECONDS")]
    pub wait_body: NonZeroU32,
    /// Seconds a connection may lie between two requests, and of waiting for the next kilobyte of an answer to be taken.
    #[arg(long, env = "WAXEND_WAIT_IDLE", default_value = "75", value_name = "SECONDS")]
    pub wait_idle: NonZeroU32,
}

/// Time limits of a connection.
#[derive(Debug, Clone, Copy)]
pub struct Waits {
    /// From its opening until its first request has begun.
    pub header: Duration,
    /// For the next [`super::PROGRESS`] bytes of a request's body.
    pub body: Duration,
    /// Between two requests, and for the next [`super::PROGRESS`] bytes of a response.
    pub idle: Duration,
}

impl From<&ConnectionArgs> for Waits {
    fn from(args: &ConnectionArgs) -> Self {
        let seconds = |n: NonZeroU32| Duration::from_secs(n.get().into());
        Self {
            header: seconds(args.wait_header),
            body: seconds(args.wait_body),
            idle: seconds(args.wait_idle),
        }
    }
}

/// How many connections that were told to close may still be open, in addition to the limit, so that new connections
/// need not wait until they are gone.
pub(super) const GOING: usize = 32;
/// Open files kept for the database, the log, the listener and whatever else the server needs (some 40, with a margin),
/// and for connections that are closing.
const RESERVED: u64 = 64 + GOING as u64;
/// Open files of a connection: its socket, and a photograph that it sends or receives.
const EACH: u64 = 2;

/// How many connections may be open at once.
#[derive(Debug, Clone)]
pub struct Caps {
    all: usize,
    address: usize,
    proxy: usize,
    proxies: Vec<IpAddr>,
}

impl Caps {
    /// The limits asked for, lowered if the system allows the process too few open files for them.
    pub fn of(args: &ConnectionArgs) -> Self {
        // `None` means that the system has no limit.
        Self::within(args, getrlimit(Resource::Nofile).current)
    }

    fn within(args: &ConnectionArgs, files: Option<u64>) -> Self {
        let allowed = files.map_or(u64::MAX, |files| files.saturating_sub(RESERVED) / EACH);
        let allowed = usize::try_from(allowed).unwrap_or(usize::MAX).max(2);
        let count = |n: NonZeroU32| usize::try_from(n.get()).unwrap_or(usize::MAX);
        let all = count(args.limit_connections).min(allowed);
        Self {
            all,
            // At most half of all places, rounded up, so that one address never takes every place.
            address: count(args.limit_connections_address).min(all.div_ceil(2)),
            proxy: count(args.limit_connections_proxy).min(all),
            proxies: args.trusted_proxies.iter().copied().map(block).collect(),
        }
    }

    /// The limit for all addresses together.
    pub fn all(&self) -> usize {
        self.all
    }

    /// The limit for this address. Pass the network of an IPv6 address (the first 64 bits): it counts as one.
    pub fn from(&self, address: IpAddr) -> usize {
        if self.proxies.contains(&address) {
            self.proxy
        } else {
            self.address
        }
    }
}

#[cfg(test)]
mod tests {
    use clap::Parser;

    use super::*;

    #[derive(Debug, Parser)]
    struct Flags {
        #[command(flatten)]
        args: ConnectionArgs,
    }

    fn caps(flags: &[&str], files: Option<u64>) -> Caps {
        let flags = Flags::parse_from([&["test"], flags].concat());
        Caps::within(&flags.args, files)
    }

    #[test]
    fn few_open_files_make_few_connections_and_one_address_never_has_all() {
        let (stranger, proxy) = ([192, 0, 2, 1].into(), [192, 0, 2, 9].into());
        let numbers = |caps: &Caps| (caps.all(), caps.from(stranger), caps.from(proxy));
        let trusted = ["--trusted-proxy", "198.51.100.1,192.0.2.9"];
        assert_eq!(numbers(&caps(&trusted, None)), (512, 64, 384));
        assert_eq!(numbers(&caps(&trusted, Some(1024))), (464, 64, 384));
        assert_eq!(numbers(&caps(&trusted, Some(256))), (80, 40, 80));
        assert_eq!(numbers(&caps(&[], Some(256))), (80, 40, 40));
        assert_eq!(numbers(&caps(&[], Some(10))), (2, 1, 1));
        assert_eq!(numbers(&caps(&["--limit-connections", "20"], None)), (20, 10, 10));
    }
}
