//! Moments as the books count them: by the day of the shop's own clock.

use serde::{Deserialize, Serialize};

use crate::log::entry::{MadeAt, UnixMs};
use crate::trade::formulas::day::Day;

/// 1990-01-01: no entry is older.
const FIRST: i64 = 7_305;
/// 2100-01-01: a clock that shows this or a later day is wrong.
const LAST: i64 = 47_482;
const DAY_MS: i64 = 86_400_000;

/// A moment: milliseconds of UTC since 1970, and how many minutes the clock was ahead of UTC.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct At(pub i64, pub i16);

impl At {
    /// Milliseconds of UTC since 1970.
    pub fn utc(self) -> UnixMs {
        UnixMs(self.0)
    }

    /// The day in the shop's time; `None` before 1990 and from 2100 on, which only a wrong clock shows.
    pub fn day(self) -> Option<Day> {
        let local = self.0.checked_add(i64::from(self.1) * 60_000)?;
        let days = local.div_euclid(DAY_MS);
        (FIRST..LAST)
            .contains(&days)
            .then(|| Day::counted(days))
            .flatten()
    }

    /// The year and month in the shop's time; `None` where [`At::day`] is `None`.
    pub fn month(self) -> Option<(i64, i64)> {
        let (year, month, _) = self.day()?.date();
        Some((year, month))
    }
}

impl From<MadeAt> for At {
    fn from(at: MadeAt) -> Self {
        At(at.utc.0, at.offset_min)
    }
}
