//! How long parts last in a shop, from what was seen of them at visits, and when a pair should be checked next.
//!
//! A part's life begins when the pair leaves with it. Every later visit saw it good or worn: worn if it was damaged and
//! not kept, or was renewed. So the end of a life is known to lie between two visits: last seen good, first seen worn.
//! A part that was never seen worn counts as good until it was last seen, not until today: it is not known whether such
//! a pair is still worn.
//!
//! Two effects would make lives look too short, and are corrected:
//!
//! - **Customers who come because of the wear** come soon after it is visible. If the renewal was agreed at drop-off,
//!   and not because of damage found inside, the part counts as good until [`LATE_DAYS`] before (common practice, no
//!   source), or until it was last seen good if that was later.
//! - **Parts fitted recently** can only have failed early, or not have been seen since. The fit leaves out those fitted
//!   so late before the last day of all records that nine in ten of them would not have failed by then.

mod forecast;
mod visits;

pub use forecast::{Check, CheckBasis, next_check, why_no_forecast};
pub use visits::{Fitted, Worn, fitted};

use std::collections::BTreeMap;

use super::weibull::Law;
use super::weibull_interval::Intervals;
use crate::log::body::OperationCode;
use crate::trade::Goods;
use crate::trade::formulas::Calculation;
use crate::trade::formulas::day::Day;

/// A customer who sees that a part is worn brings the pair within so many days. Common practice, no source.
pub const LATE_DAYS: f64 = 120.0;
/// The least number of parts that were seen again, and of worn ones among them, for a fit.
const FEWEST: (usize, usize) = (10, 5);
/// A part must have been fitted so long ago that this share of parts fails within the time.
const RIPE: f64 = 0.9;
/// How often that time is calculated again from the fit.
const ROUNDS: usize = 6;

/// The life of a part, in days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartLife {
    /// The fitted distribution, in days.
    pub law: Law,
    /// The number of parts it is based on.
    pub parts: usize,
    /// How many of them were seen worn.
    pub worn: usize,
}

/// One observed life: the day it began, and the days of it between which the part wore out.
#[derive(Debug, Clone, Copy, PartialEq)]
struct ObservedLife {
    began: Day,
    good: f64,
    worn: Option<f64>,
}

/// The observed lives of a shop's parts, by the operation that fitted them.
#[derive(Debug, Clone, Default)]
pub struct PartLives {
    spans: BTreeMap<OperationCode, Vec<(Goods, ObservedLife)>>,
    last: Option<Day>,
}

impl PartLives {
    /// Adds the parts of a pair on a kind of goods, as returned by [`fitted`]. `seen` is the last day on which the pair
    /// was in the shop.
    pub fn add(&mut self, goods: &Goods, parts: &[Fitted], seen: Option<Day>) {
        self.last = self.last.max(seen);
        for part in parts {
            if let Some(span) = span(part) {
                self.spans
                    .entry(part.operation.clone())
                    .or_default()
                    .push((goods.clone(), span));
            }
        }
    }

    /// The life of the part that an operation fits on a kind of goods, or on all kinds if too few were seen on that
    /// kind. `None` if too few were seen at all, or no distribution fits.
    pub fn life(&self, operation: &str, goods: &Goods) -> Option<PartLife> {
        let all = self.spans.get(operation)?;
        let of = |kind: Option<&Goods>| {
            let spans = all.iter().filter(|(one, _)| kind.is_none_or(|kind| one == kind));
            self.fit(&spans.map(|(_, span)| *span).collect::<Vec<_>>())
        };
        of(Some(goods)).or_else(|| of(None))
    }

    /// Fits, leaves out the parts that this fit shows to be fitted too recently, and fits again, until the set stays
    /// the same.
    fn fit(&self, all: &[ObservedLife]) -> Option<PartLife> {
        let last = self.last?;
        let mut life = fit(all)?;
        for _ in 0..ROUNDS {
            let ripe = life.law.failed(RIPE);
            let watched = |span: &&ObservedLife| (last.count() - span.began.count()) as f64 >= ripe;
            let Some(next) = fit(&all.iter().filter(watched).copied().collect::<Vec<_>>()) else {
                // Too few parts are old enough: the first fit is the best available.
                return Some(life);
            };
            let same = next.parts == life.parts;
            life = next;
            if same {
                break;
            }
        }
        Some(life)
    }
}

fn fit(spans: &[ObservedLife]) -> Option<PartLife> {
    let worn = spans.iter().filter(|span| span.worn.is_some()).count();
    if spans.len() < FEWEST.0 || worn < FEWEST.1 {
        return None;
    }
    let intervals = spans.iter().map(|span| (span.good, span.worn)).collect();
    let law = Intervals { intervals }.calculate().ok()?;
    Some(PartLife {
        law,
        parts: spans.len(),
        worn,
    })
}

/// The days of its life between which a part wore out; `None` if it was not seen again.
fn span(part: &Fitted) -> Option<ObservedLife> {
    let good = part.good_days.max(0) as f64;
    let Some(worn) = &part.worn else {
        return (good > 0.0).then_some(ObservedLife {
            began: part.on,
            good,
            worn: None,
        });
    };
    let days = (worn.days as f64).max(1.0);
    let since = if worn.came_for_it { days - LATE_DAYS } else { 0.0 };
    Some(ObservedLife {
        began: part.on,
        good: good.max(since).min(days - 0.5),
        worn: Some(days),
    })
}

#[cfg(test)]
mod tests;
