//! Writes refused requests to the log: tokens and join codes that open nothing, and what the role of a device may not do.
//!
//! Whoever guesses sends many such requests, so only some lines are written in a minute, and each says how many refusals
//! were not written since the line before. No line has a token, a code, or any text that the client has chosen.

use std::collections::BTreeMap;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::num::NonZeroU32;
use std::sync::atomic::{AtomicU64, Ordering};

use axum::extract::{ConnectInfo, MatchedPath};
use axum::http::request::Parts;
use governor::{DefaultDirectRateLimiter, DefaultKeyedRateLimiter, Quota};
use shared::log::DeviceId;
use tracing::field::display;
use tracing::warn;

use crate::limits::block;
use server_core::error::Error;

/// Lines a minute about one address or device, all of which may come at once.
const LINES_EACH: NonZeroU32 = NonZeroU32::MIN.saturating_add(9);
/// Lines a minute about all of them, so that many addresses together do not fill the disk.
const LINES: NonZeroU32 = NonZeroU32::MIN.saturating_add(99);

/// About whom a line is.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
enum LineAbout {
    Address(IpAddr),
    Device(DeviceId),
}

/// Counts the lines about refused requests. The counters are kept in memory, so a restart of the server resets them.
#[derive(Debug)]
pub struct RefusalLog {
    each: DefaultKeyedRateLimiter<LineAbout>,
    all: DefaultDirectRateLimiter,
    /// The refusals since the last line that were not written.
    unwritten: AtomicU64,
}

impl Default for RefusalLog {
    fn default() -> Self {
        Self {
            each: DefaultKeyedRateLimiter::dashmap(Quota::per_minute(LINES_EACH)),
            all: DefaultDirectRateLimiter::direct(Quota::per_minute(LINES)),
            unwritten: AtomicU64::new(0),
        }
    }
}

impl RefusalLog {
    /// Notes that a request was refused for its token. Any other error is not noted.
    pub fn token(&self, request: &Parts, error: &Error) {
        let is_of_token = matches!(
            error,
            Error::TokenMissing | Error::TokenUnknown | Error::TokenRevoked | Error::TokenExpired
        );
        if !is_of_token {
            return;
        }
        let peer = request.extensions.get::<ConnectInfo<SocketAddr>>();
        let address = peer.map(|ConnectInfo(peer)| peer.ip().to_canonical());
        let whose = address.unwrap_or(IpAddr::V4(Ipv4Addr::UNSPECIFIED));
        let Some(unwritten) = self.line(&LineAbout::Address(block(whose))) else {
            return;
        };
        let (code, address) = (display(error.code()), address.map(display));
        let (method, route) = (display(&request.method), route(request));
        warn!(
            code,
            address, method, route, unwritten, "a request was refused: no token of it opens the shop"
        );
    }

    /// Notes that an attempt to join was refused for its code. Any other error is not noted.
    pub fn join_code(&self, address: IpAddr, error: &Error) {
        if !matches!(error, Error::CodeUnknown | Error::CodeExpired) {
            return;
        }
        if let Some(unwritten) = self.line(&LineAbout::Address(block(address))) {
            let (code, address) = (display(error.code()), display(address.to_canonical()));
            warn!(
                code,
                address, unwritten, "a device was refused: no join code lets it in"
            );
        }
    }

    /// Notes that a device was refused what only a repairer's may ask.
    pub fn role(&self, request: &Parts, device: DeviceId) {
        if let Some(unwritten) = self.line(&LineAbout::Device(device)) {
            let (method, route) = (display(&request.method), route(request));
            warn!(%device, method, route, unwritten, "a request was refused: it is for a repairer's device");
        }
    }

    /// Notes that the role of a device may not write these entries: how many of each kind.
    pub fn entries(&self, device: DeviceId, kinds: &BTreeMap<&'static str, usize>) {
        if let Some(unwritten) = self.line(&LineAbout::Device(device)) {
            warn!(%device, ?kinds, unwritten, "entries were refused: a repairer has to take them");
        }
    }

    /// Drops the counters of addresses and devices that have been quiet for long, and tells of what was not written.
    pub fn tidy(&self) {
        self.each.retain_recent();
        let unwritten = self.unwritten.swap(0, Ordering::Relaxed);
        if unwritten > 0 {
            warn!(
                unwritten,
                "requests were refused that no line of the log has told of"
            );
        }
    }

    /// Whether a line may be written now: the number of refusals that were not written since the last one. If not, this
    /// refusal is one of them.
    fn line(&self, whose: &LineAbout) -> Option<u64> {
        if self.each.check_key(whose).is_ok() && self.all.check().is_ok() {
            return Some(self.unwritten.swap(0, Ordering::Relaxed));
        }
        self.unwritten.fetch_add(1, Ordering::Relaxed);
        None
    }
}

/// The route of a request, with the names of its parts and not what the client has put there.
fn route(request: &Parts) -> &str {
    let matched = request.extensions.get::<MatchedPath>();
    matched.map_or("", MatchedPath::as_str)
}
