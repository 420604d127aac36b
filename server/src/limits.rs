//! Rate limits: how often one device or address may send requests, and how often an address may guess secrets.

use std::net::IpAddr;
use std::num::NonZeroU32;

use clap::Args;
use governor::clock::{Clock, DefaultClock};
use governor::{DefaultKeyedRateLimiter, Quota};
use shared::log::DeviceId;

use server_core::error::Error;

/// Requests per minute; each may come in one burst. For the flags and variables see `waxend serve --help`.
#[derive(Debug, Clone, Copy, Args)]
pub struct LimitArgs {
    /// Requests a minute from one joined device.
    #[arg(
        long,
        env = "WAXEND_LIMIT_DEVICE",
        default_value = "3000",
        value_name = "PER_MINUTE"
    )]
    pub limit_device: NonZeroU32,
    /// Requests a minute from one address. Behind a reverse proxy see --trusted-proxy.
    #[arg(
        long,
        env = "WAXEND_LIMIT_ADDRESS",
        default_value = "9000",
        value_name = "PER_MINUTE"
    )]
    pub limit_address: NonZeroU32,
    /// Attempts to join, and questions for the proof of having been shut out, a minute from one address.
    #[arg(
        long,
        env = "WAXEND_LIMIT_JOIN",
        default_value = "20",
        value_name = "PER_MINUTE"
    )]
    pub limit_join: NonZeroU32,
    /// Card links a minute from one address that lead nowhere.
    #[arg(
        long,
        env = "WAXEND_LIMIT_GUESS",
        default_value = "30",
        value_name = "PER_MINUTE"
    )]
    pub limit_guess: NonZeroU32,
}

/// The counters of the rate limits. They are kept in memory, so a restart of the server resets them.
#[derive(Debug)]
pub struct RateLimits {
    device: DefaultKeyedRateLimiter<DeviceId>,
    address: DefaultKeyedRateLimiter<IpAddr>,
    join: DefaultKeyedRateLimiter<IpAddr>,
    guess: DefaultKeyedRateLimiter<IpAddr>,
}

impl RateLimits {
    /// Counters with these limits, all at zero.
    pub fn new(args: &LimitArgs) -> Self {
        Self {
            device: DefaultKeyedRateLimiter::dashmap(Quota::per_minute(args.limit_device)),
            address: DefaultKeyedRateLimiter::dashmap(Quota::per_minute(args.limit_address)),
            join: DefaultKeyedRateLimiter::dashmap(Quota::per_minute(args.limit_join)),
            guess: DefaultKeyedRateLimiter::dashmap(Quota::per_minute(args.limit_guess)),
        }
    }

    /// Counts a request of a joined device.
    ///
    /// # Errors
    /// [`Error::TooMany`].
    pub fn device(&self, device: DeviceId) -> Result<(), Error> {
        check(&self.device, &device)
    }

    /// Counts a request from an address.
    ///
    /// # Errors
    /// [`Error::TooMany`].
    pub fn address(&self, address: IpAddr) -> Result<(), Error> {
        check(&self.address, &block(address))
    }

    /// Counts an attempt to join, or a question for the proof of having been shut out.
    ///
    /// # Errors
    /// [`Error::TooMany`].
    pub fn join(&self, address: IpAddr) -> Result<(), Error> {
        check(&self.join, &block(address))
    }

    /// Counts a card link that leads nowhere.
    ///
    /// # Errors
    /// [`Error::TooMany`].
    pub fn guess(&self, address: IpAddr) -> Result<(), Error> {
        check(&self.guess, &block(address))
    }

    /// Drops the counters of addresses and devices that have been quiet for long.
    pub fn tidy(&self) {
        self.device.retain_recent();
        for limiter in [&self.address, &self.join, &self.guess] {
            limiter.retain_recent();
        }
    }
}

fn check<K: std::hash::Hash + Eq + Clone>(
    limiter: &DefaultKeyedRateLimiter<K>,
    key: &K,
) -> Result<(), Error> {
    limiter.check_key(key).map_err(|until| {
        let wait = until.wait_time_from(DefaultClock::default().now());
        Error::TooMany {
            retry_after: wait.as_secs() + 1,
        }
    })
}

/// The network of an IPv6 address (its first 64 bits), since whoever has one address of it usually has all; an IPv4
/// address itself.
pub(crate) fn block(address: IpAddr) -> IpAddr {
    match address.to_canonical() {
        IpAddr::V6(v6) => IpAddr::V6((u128::from(v6) & !u128::from(u64::MAX)).into()),
        v4 => v4,
    }
}
