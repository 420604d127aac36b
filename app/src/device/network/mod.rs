//! The shop's server over HTTP: one exchange a call, with a deadline, and only two ways to fail.
//!
//! The device carries the server's address and its token in its join record, not in cookies, so that the app may
//! have been loaded from another address. Nothing here keeps state or retries: the sync machine decides what to do
//! next, and [`SyncLoop`] when.
//!
//! From a tap on "Sync now" to `fetch`: [`SyncLoop::now`] (when) → `round` (which server; loads the piece of the app that
//! syncs) → [`run_round`](app_core::sync::run_round) (which request) → `Remote::ask` (its path and message) →
//! `Remote::exchange` (`fetch`, and the whole answer).

mod backoff;
mod contact;
mod picture;
mod remote;
mod request;
mod round;
mod sync_loop;
mod tabs;

pub use backoff::Phase;
pub(super) use picture::picture;
pub use remote::{Remote, public_url};
pub use sync_loop::SyncLoop;

use shared::sync::Problem;

/// Why a question has no answer.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Failure {
    /// No network, no server, too slow, or something else than the shop's server answered. The server may or may
    /// not have done what was asked.
    #[error("{}", words::device::server_did_not_answer())]
    NoAnswer,
    /// The server answered with a refusal.
    #[error("{}", .0.message)]
    Refused(Problem),
}
