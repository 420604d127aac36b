//! When the next round of sync follows, and what is shown meanwhile.

use js_sys::Math;
use shared::sync::machine::RoundOutcome;
use shared::sync::{Code, Problem};

/// How long after a save a round of sync begins. More saves usually follow (photographs are taken in quick succession),
/// so each save within this time starts it again, up to [`LATEST_MS`]; they are then sent together and are not slowed
/// down by sending.
pub(super) const AFTER_SAVE_MS: f64 = 2_000.0;
/// The longest that a save waits for a round while others keep following it.
pub(super) const LATEST_MS: f64 = 10_000.0;
/// How long after the app comes into view or online a round begins. Browsers send several events then; one round is
/// enough for all of them.
pub(super) const NUDGE_MS: f64 = 200.0;
/// How long after a successful round the next begins while the app is in view, to fetch what other devices have
/// written.
const REFRESH_MS: f64 = 60_000.0;
/// How long until the next attempt when another tab is syncing.
const ELSEWHERE_MS: f64 = 5_000.0;
/// While many entries arrive, screens are updated no more often than this.
pub(super) const NEWS_MS: f64 = 2_000.0;
/// The backoff after the first failure; it doubles with each further one…
const FIRST_RETRY_MS: f64 = 2_000.0;
/// …up to this.
const LAST_RETRY_MS: f64 = 60_000.0;

/// The longest pause that a server can demand.
const LAST_ASKED_MS: f64 = 3_600_000.0;

/// The state of syncing.
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
    /// The last round failed and will be repeated without anybody's doing. With the server's refusal, if it answered
    /// with one.
    Waiting(Option<Problem>),
}

/// What came of an attempt at a round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Outcome {
    /// Another tab is running a round.
    Elsewhere,
    /// The device has joined no shop.
    NotJoined,
    /// The round ran and ended with this.
    Ended(RoundOutcome),
}

impl Outcome {
    /// Whether the round counts as a failure, for the backoff.
    pub(super) fn failed(&self) -> bool {
        matches!(
            self,
            Self::Ended(RoundOutcome::Again { .. } | RoundOutcome::StoreFailed)
        )
    }

    /// The phase to show, and in how many milliseconds the next round begins (`None`: only when something calls for
    /// it), after so many failures in a row.
    pub(super) fn judge(self, failures: u32) -> (Phase, Option<f64>) {
        match self {
            Self::Elsewhere => (Phase::Syncing, Some(ELSEWHERE_MS)),
            // A person must join first; after that, another call starts a round.
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

/// A failure of the device's own storage, in the form of a server's refusal, to be shown in the same way.
fn store_failed() -> Problem {
    Problem {
        code: Code::Internal,
        message: words::device::storage_did_not_answer().to_owned(),
        retry_after: None,
    }
}

/// The backoff after so many failures in a row, in ms, with a random jitter of a quarter, so that a shop's devices do
/// not all come back at once.
fn retry_ms(failures: u32) -> f64 {
    let doubled = FIRST_RETRY_MS * f64::from(2_u32.saturating_pow(failures.saturating_sub(1).min(8)));
    doubled.min(LAST_RETRY_MS) * (0.75 + Math::random() / 2.0)
}
