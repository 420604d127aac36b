//! Reading a pushed batch, each entry by itself, so that one bad entry does not stop the others.

use serde::Deserialize;
use serde_json::value::RawValue;
use shared::log::{Held, UnixMs};
use shared::sync::{Code, Problem};

use crate::error::Error;

#[derive(Deserialize)]
struct Batch<'a> {
    #[serde(borrow)]
    entries: Vec<&'a RawValue>,
}

/// Reads the body of `POST /api/v1/entries`: for each entry the entry, or why it is refused.
///
/// # Errors
/// [`Error::Malformed`] when the body as a whole is not JSON of the right shape.
pub fn read_push(body: &[u8]) -> Result<Vec<Result<Held, Problem>>, Error> {
    let batch: Batch<'_> = serde_json::from_slice(body).map_err(|_| Error::Malformed)?;
    Ok(batch.entries.into_iter().map(|raw| read_one(raw.get())).collect())
}

fn read_one(text: &str) -> Result<Held, Problem> {
    let held: Held = serde_json::from_str(text).map_err(|_| {
        refusal(
            Code::Malformed,
            "The server could not read this entry. It stays on the device.".to_owned(),
        )
    })?;
    check(&held)?;
    Ok(held)
}

fn check(held: &Held) -> Result<(), Problem> {
    let times = UnixMs(0)..=UnixMs::MAX;
    if held.received.is_some_and(|received| !times.contains(&received)) {
        return Err(refusal(
            Code::BadEnvelope,
            "The server does not take this: it carries a time outside the range that can be kept.".to_owned(),
        ));
    }
    held.entry.check().map_err(|error| {
        refusal(
            Code::BadEnvelope,
            format!("The server does not take this: {error}."),
        )
    })
}

/// A refusal of one entry.
pub(super) fn refusal(code: Code, message: String) -> Problem {
    Problem {
        code,
        message,
        retry_after: None,
    }
}
