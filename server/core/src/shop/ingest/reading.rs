//! Reads a pushed batch. Each entry is read by itself, so that an invalid one does not stop the others.

use serde::Deserialize;
use serde_json::value::RawValue;
use shared::log::{ReceivedEntry, UnixMs};
use shared::sync::messages::BATCH_BYTES;
use shared::sync::{Code, Cursor, Problem};

use super::refusals::refusal;
use crate::error::Error;

#[derive(Deserialize)]
struct Raw<'a> {
    #[serde(borrow)]
    entries: Vec<&'a RawValue>,
    #[serde(default)]
    pushed: Option<Cursor>,
}

/// A pushed batch.
#[derive(Debug, Default)]
pub struct Batch {
    /// Each entry, or why it is refused, in the order sent.
    pub entries: Vec<Result<ReceivedEntry, Problem>>,
    /// The cursor after the device's last push. If the server no longer has it, it has lost entries and refuses the
    /// batch.
    pub pushed: Option<Cursor>,
}

impl From<Vec<ReceivedEntry>> for Batch {
    fn from(entries: Vec<ReceivedEntry>) -> Self {
        Self {
            entries: entries.into_iter().map(Ok).collect(),
            pushed: None,
        }
    }
}

/// The most entries in one batch: more than fit into the largest body, if they are entries. Anything else costs its sender
/// two bytes, and the server some hundred for the answer.
pub(super) const MOST_ENTRIES: usize = 2 * BATCH_BYTES / 200;

/// Reads the body of `POST /api/v1/entries`.
///
/// # Errors
/// [`Error::Malformed`] when the body as a whole is not JSON of the expected shape, [`Error::TooLarge`] for too many
/// entries.
pub fn read_push(body: &[u8]) -> Result<Batch, Error> {
    let raw: Raw<'_> = serde_json::from_slice(body).map_err(|_| Error::Malformed)?;
    if raw.entries.len() > MOST_ENTRIES {
        return Err(Error::TooLarge);
    }
    let entries = raw
        .entries
        .into_iter()
        .map(|entry| read_one(entry.get()))
        .collect();
    Ok(Batch {
        entries,
        pushed: raw.pushed,
    })
}

fn read_one(text: &str) -> Result<ReceivedEntry, Problem> {
    let held: ReceivedEntry = serde_json::from_str(text)
        .map_err(|_| refusal(Code::Malformed, words::refusals::entry_unreadable()))?;
    check(&held)?;
    Ok(held)
}

fn check(held: &ReceivedEntry) -> Result<(), Problem> {
    let times = UnixMs(0)..=UnixMs::MAX;
    if held.received.is_some_and(|received| !times.contains(&received)) {
        return Err(refusal(Code::BadEnvelope, words::refusals::time_outside_range()));
    }
    held.entry.check().map_err(|error| {
        refusal(
            Code::BadEnvelope,
            words::refusals::entry_not_taken(&error.to_string()),
        )
    })
}
