//! Statistics of finished jobs, for the questions whose answers need them.

use std::cell::RefCell;

use serde::de::DeserializeOwned;
use shared::analytics::{AnalyticsQuery, ENOUGH, MONTHS_BACK, months_back};

use crate::device::DeviceError;
use crate::device::Phone;
use crate::device::analytics::{ask_analytics, which};
use crate::parts::today;
use app_core::browser::clock::now;

/// A quarter of a day, in ms.
const QUARTER_MS: i64 = 6 * 3_600_000;

/// Which worker has been given statistics, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Taught {
    /// The number of the worker ([`which`]); 0 before the first.
    worker: u32,
    /// The date on this device, from which the months are counted.
    date: String,
    /// The quarter of the day by UTC, counted from 1970, so that it is the same one on all devices of the shop.
    quarter: i64,
}

impl Taught {
    fn now() -> Self {
        Self {
            worker: which(),
            date: today(),
            quarter: now().0.div_euclid(QUARTER_MS),
        }
    }
}

thread_local! {
    /// When statistics of finished jobs were given last; `None` before the first time.
    static TAUGHT: RefCell<Option<Taught>> = const { RefCell::new(None) };
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
/// read and sent with the first such question of each quarter of a day only; the worker keeps the statistics for later
/// ones, so that they are answered quickly. A worker that was started anew gets the records again.
///
/// # Errors
/// As [`ask_analytics`], and when the database fails.
pub async fn ask_with_statistics<Q: AnalyticsQuery, A: DeserializeOwned>(
    phone: &Phone,
    asked: &Q,
) -> Result<A, DeviceError> {
    let this = Taught::now();
    let known = TAUGHT.with_borrow(|taught| taught.as_ref() == Some(&this));
    let rows = if known { Vec::new() } else { recent(phone).await? };
    let told = ask_analytics(asked, &rows).await;
    // The question may have started the worker; a worker that has failed is not asked again.
    TAUGHT.set(told.is_ok().then(|| Taught {
        worker: which(),
        ..this
    }));
    told
}
