//! How often to sync, and what to say between two rounds.

use js_sys::Math;
use shared::sync::machine::RoundOutcome;
use shared::sync::{Code, Problem};

/// After a save, others are likely to follow: photographs come in runs, and are not held up by those on their way to the
/// server. So much later the run is thought to be over…
pub(super) const AFTER_SAVE_MS: f64 = 2_000.0;
/// …and so long after its first it is sent in any case.
pub(super) const LATEST_MS: f64 = 10_000.0;
/// Coming into view tells itself in several events; one round answers them all.
pub(super) const NUDGE_MS: f64 = 200.0;
/// While in view and up to date: what other devices have done meanwhile.
const REFRESH_MS: f64 = 60_000.0;
/// Another tab is syncing.
const ELSEWHERE_MS: f64 = 5_000.0;
/// While much arrives, screens read anew no more often than this.
pub(super) const NEWS_MS: f64 = 2_000.0;
/// Failures double the pause from here…
const FIRST_RETRY_MS: f64 = 2_000.0;
/// …up to here.
const LAST_RETRY_MS: f64 = 60_000.0;

/// The longest pause that a server can ask for.
const LAST_ASKED_MS: f64 = 3_600_000.0;

/// Where syncing stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Phase {
    /// The device has joined no shop, or has been shut out of it.
    Alone,
    /// A round is under way, in this tab or another.
    Syncing,
    /// As [`Phase::Syncing`], and older history is arriving: the app can be used meanwhile.
    Filling,
    /// Everything is sent and everything has been read.
    UpToDate,
    /// It did not work, and will be tried again by itself. With what was said, if anything answered.
    Waiting(Option<Problem>),
}

/// What came of an attempt at a round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::device) enum Outcome {
    /// Another tab is at it.
    Elsewhere,
    /// The device has joined no shop.
    NotJoined,
    /// It ran, and ended so.
    Ended(RoundOutcome),
}

impl Outcome {
    /// Whether it is to be tried again, each time a little later.
    pub(super) fn failed(&self) -> bool {
        matches!(
            self,
            Self::Ended(RoundOutcome::Again { .. } | RoundOutcome::StoreFailed)
        )
    }

    /// What to show, and in how many milliseconds to go on by itself, after so many failures in a row.
    pub(super) fn judge(self, failures: u32) -> (Phase, Option<f64>) {
        match self {
            Self::Elsewhere => (Phase::Syncing, Some(ELSEWHERE_MS)),
            // A person must join first; then somebody calls for a round.
            Self::NotJoined | Self::Ended(RoundOutcome::JoinAgain(_)) => (Phase::Alone, None),
            Self::Ended(RoundOutcome::UpToDate) => (Phase::UpToDate, Some(REFRESH_MS)),
            Self::Ended(RoundOutcome::Again { after, problem }) => {
                let asked = after
                    .and_then(|seconds| u32::try_from(seconds).ok())
                    .map_or(0.0, f64::from)
                    * 1000.0;
                (
                    Phase::Waiting(problem),
                    Some(retry_ms(failures).max(asked).min(LAST_ASKED_MS)),
                )
            }
            Self::Ended(RoundOutcome::StoreFailed) => {
                (Phase::Waiting(Some(store_failed())), Some(retry_ms(failures)))
            }
        }
    }
}

/// The device's own storage in the words of a refusal.
fn store_failed() -> Problem {
    Problem {
        code: Code::Internal,
        message: "The storage of this device did not answer. Nothing was lost; it will be tried again."
            .to_owned(),
        retry_after: None,
    }
}

/// The pause after so many failures in a row, with a jitter of a quarter, so that a shop's devices do not all come
/// back at once.
fn retry_ms(failures: u32) -> f64 {
    let doubled = FIRST_RETRY_MS * f64::from(2_u32.saturating_pow(failures.saturating_sub(1).min(8)));
    doubled.min(LAST_RETRY_MS) * (0.75 + Math::random() / 2.0)
}
