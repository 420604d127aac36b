//! Statistics of finished jobs, for the questions whose answers need them.

use std::cell::Cell;

use serde::de::DeserializeOwned;
use shared::analytics::{AnalyticsQuery, ENOUGH, MONTHS_BACK, months_back};

use crate::device::DeviceError;
use crate::device::Phone;
use crate::device::analytics::{ask_analytics, which};
use crate::parts::today;

thread_local! {
    /// The number of the worker ([`which`]) that has been given the statistics of finished jobs; 0 before the first.
    static TAUGHT: Cell<u32> = const { Cell::new(0) };
}

/// The records of the shop's most recent pairs, one JSON text a pair: those of the last [`MONTHS_BACK`] months, newest
/// month first; once a month brings the count to [`ENOUGH`], earlier months are left out.
///
/// # Errors
/// When the database fails.
pub async fn recent(phone: &Phone) -> Result<Vec<String>, DeviceError> {
    Ok(phone.books(&months_back(&today(), MONTHS_BACK), ENOUGH).await?)
}

/// Asks the analytics worker a question whose answer needs statistics of finished jobs. The records of those jobs are
/// read and sent with the first such question only; the worker keeps the statistics for later ones, so that they are
/// answered quickly. A worker that was started anew gets the records again.
///
/// # Errors
/// As [`ask_analytics`], and when the database fails.
pub async fn ask_with_statistics<Q: AnalyticsQuery, A: DeserializeOwned>(
    phone: &Phone,
    asked: &Q,
) -> Result<A, DeviceError> {
    let known = TAUGHT.get();
    let rows = if known > 0 && known == which() {
        Vec::new()
    } else {
        recent(phone).await?
    };
    let told = ask_analytics(asked, &rows).await?;
    TAUGHT.set(which());
    Ok(told)
}
