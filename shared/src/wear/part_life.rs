//! How long parts last across a shop, from what was seen of them at visits, and when a pair should be looked at next.
//!
//! A part's life begins when the pair leaves with it. Every later visit saw it good, or worn: worn if it was damaged and not
//! kept, or was renewed. So a life is known between two visits: last seen good, first seen worn. A part that was never seen
//! worn counts as good when last seen, and not until today: nobody knows whether such a pair is still worn, or by whom.
//!
//! Two things would make lives look too short, and are met:
//!
//! - **Who comes because of the wear** comes soon after it. Where the renewal was agreed at drop-off, and not because of
//!   something found inside, the part was still good [`LATE_DAYS`] before (common practice, no source), if not seen later.
//! - **Parts fitted lately** can only have failed early, or not been seen since. They are left out of the fit: those fitted
//!   within the time in which nine in ten fail, before the last day of all records.

mod forecast;
mod visits;

pub use forecast::{Check, CheckBasis, next_check};
pub use visits::{Fitted, Worn, fitted};

use std::collections::BTreeMap;

use super::weibull::Law;
use super::weibull_interval::Intervals;
use crate::trade::Goods;
use crate::trade::formulas::Calculation;
use crate::trade::formulas::day::Day;

/// Somebody who sees that a part is worn brings the pair within so many days. Common practice, no source.
pub const LATE_DAYS: f64 = 120.0;
/// A fit needs so many parts that were seen again, and so many of them worn.
const FEWEST: (usize, usize) = (10, 5);
/// The share of parts that fail within the time that a part must have been watched.
const RIPE: f64 = 0.9;
/// How often the time to watch is reckoned anew from the fit.
const ROUNDS: usize = 6;

/// How long a part lasts, in days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartLife {
    /// The law, in days.
    pub law: Law,
    /// Parts it rests on.
    pub parts: usize,
    /// Those that were seen worn.
    pub worn: usize,
}

/// One life: when it began, and between which days of it the part wore out.
#[derive(Debug, Clone, Copy, PartialEq)]
struct ObservedLife {
    began: Day,
    good: f64,
    worn: Option<f64>,
}

/// The lives of a shop's parts, by the operation that fitted them.
#[derive(Debug, Clone, Default)]
pub struct PartLives {
    spans: BTreeMap<String, Vec<(Goods, ObservedLife)>>,
    last: Option<Day>,
}

impl PartLives {
    /// Enters the parts of a pair: of its kind of goods, as [`fitted`] has them. `seen` is the last day the pair was here.
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

    /// How long what an operation fits lasts on a kind of goods; on any kind where too few were seen on that; `None` where
    /// too few were seen at all, or no law fits.
    pub fn life(&self, operation: &str, goods: &Goods) -> Option<PartLife> {
        let all = self.spans.get(operation)?;
        let of = |kind: Option<&Goods>| {
            let spans = all.iter().filter(|(one, _)| kind.is_none_or(|kind| one == kind));
            self.fit(&spans.map(|(_, span)| *span).collect::<Vec<_>>())
        };
        of(Some(goods)).or_else(|| of(None))
    }

    /// Fits, leaves out what was fitted too lately by that fit, and fits again, until that changes nothing.
    fn fit(&self, all: &[ObservedLife]) -> Option<PartLife> {
        let last = self.last?;
        let mut life = fit(all)?;
        for _ in 0..ROUNDS {
            let ripe = life.law.failed(RIPE);
            let watched = |span: &&ObservedLife| (last.count() - span.began.count()) as f64 >= ripe;
            let Some(next) = fit(&all.iter().filter(watched).copied().collect::<Vec<_>>()) else {
                // Too few are ripe: the first fit is the best there is.
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
    let law = Intervals { intervals }.reckon().ok()?;
    Some(PartLife {
        law,
        parts: spans.len(),
        worn,
    })
}

/// Between which days of its life a part wore out; `None` where it was not seen again.
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
