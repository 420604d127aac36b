//! What the shop's finished jobs show: how long an operation takes, which hidden damage is found in it, and how long
//! its repair takes.
//!
//! A job is finished if it is ready or gone, was paid for, and does not repeat earlier work because of a complaint; the
//! cost of complaints is in the [`books`](super::books).

mod rates;

use std::collections::BTreeMap;

use super::lognormal::{Learnt, Spread};
use super::materials::usual_cost;
use super::minutes::Attended;
use super::records::JobFacts;
use super::work::{LineWork, StockOf, Timesheet, job_work};
use crate::log::body::OperationCode;
use crate::trade::{Component, Construction, Goods, conditions, operation, remedies};
use rates::Rates;

/// The weight in pairs of a trade norm, or of the estimate of a wider group.
const WEIGHT: f64 = 5.0;
/// The minutes of an operation without a norm.
const UNKNOWN: Spread = Spread { p50: 20.0, p90: 40.0 };
/// The 90th percentile of a norm that is a single number, as a multiple of it.
const SURE: f64 = 1.25;

/// One paid line of one finished job.
#[derive(Debug, Clone, PartialEq)]
pub struct LineSample {
    /// The kind of goods.
    pub goods: Goods,
    /// The construction as it was guessed at the counter.
    pub guessed: Option<Construction>,
    /// The rate of tax included in or added to its price.
    pub tax: Option<i64>,
    /// Its minutes, material and price.
    pub work: LineWork,
}

impl LineSample {
    /// What the usual amount of it would have taken, in attended minutes.
    fn usual_minutes(&self) -> f64 {
        self.work.minutes / self.work.amount.max(0.01)
    }
}

/// Statistics of the finished jobs.
#[derive(Debug)]
pub struct JobStatistics {
    samples: BTreeMap<OperationCode, Vec<LineSample>>,
    minutes: BTreeMap<OperationCode, Learnt>,
    mending: BTreeMap<Component, Vec<f64>>,
    rates: Rates,
}

/// The repairer's own estimate: of ten pairs with an operation on a construction (as guessed), how many have a part
/// damaged? `None` where no estimate was given.
pub type StatedRates<'a> = &'a dyn Fn(&str, Option<&Construction>, &Component) -> Option<f64>;

impl JobStatistics {
    /// The statistics of all jobs of the shop.
    pub fn of(facts: &[JobFacts], attended: &[Attended], stock: StockOf<'_>) -> Self {
        let times = Timesheet::of(attended);
        let mut all = Self {
            samples: BTreeMap::new(),
            minutes: BTreeMap::new(),
            mending: BTreeMap::new(),
            rates: Rates::default(),
        };
        for job in facts.iter().filter(|job| is_finished(job)) {
            let work = job_work(job, &times, stock);
            all.rates.count(job, &work);
            for answered in work.needed.iter().filter(|one| one.minutes > 0.0) {
                all.mending
                    .entry(answered.part.clone())
                    .or_default()
                    .push(answered.minutes);
            }
            for line in work.lines {
                all.samples
                    .entry(line.operation.clone())
                    .or_default()
                    .push(LineSample {
                        goods: job.goods.clone(),
                        guessed: job.guessed.clone(),
                        tax: job.tax,
                        work: line,
                    });
            }
        }
        all.rates.fit();
        for (code, samples) in &all.samples {
            let seen: Vec<f64> = timed(samples).map(LineSample::usual_minutes).collect();
            all.minutes
                .insert(code.clone(), Learnt::prior(norm(code), WEIGHT).after(&seen));
        }
        all
    }

    /// The finished lines of an operation on a kind of goods.
    pub fn samples<'a>(
        &'a self,
        code: &str,
        goods: &'a Goods,
    ) -> impl Iterator<Item = &'a LineSample> + Clone {
        let all = self.samples.get(code).map_or(&[][..], Vec::as_slice);
        all.iter().filter(move |one| one.goods == *goods)
    }

    /// How long an operation takes on a kind of goods: the trade's norm, updated by the shop's minutes on all goods,
    /// then by those on this kind.
    pub fn minutes(&self, code: &str, goods: &Goods) -> Spread {
        let wider = self
            .minutes
            .get(code)
            .copied()
            .unwrap_or_else(|| Learnt::prior(norm(code), WEIGHT));
        let of_goods: Vec<f64> = self
            .samples(code, goods)
            .filter(|one| one.work.both && one.work.minutes > 0.0)
            .map(LineSample::usual_minutes)
            .collect();
        wider.weighing(WEIGHT).after(&of_goods).next()
    }

    /// How long the repair of a hidden damage takes.
    pub fn mending(&self, part: &Component) -> Spread {
        let seen = self.mending.get(part).map_or(&[][..], Vec::as_slice);
        Learnt::prior(usual_remedy(part).map_or(UNKNOWN, norm), WEIGHT)
            .after(seen)
            .next()
    }

    /// The usual cost of the material for the repair of a hidden damage, in minor units.
    pub fn mending_materials(&self, part: &Component, stock: StockOf<'_>) -> f64 {
        usual_remedy(part).map_or(0.0, |code| usual_cost(&stock(code)))
    }

    /// How often an operation on a construction (as guessed) finds each part damaged, so that it must be repaired at no
    /// charge: the beta distribution of the rate, for every part that the operation opens or in which it has ever found
    /// damage.
    pub fn hidden(
        &self,
        code: &str,
        guessed: Option<&Construction>,
        goods: &Goods,
        stated: StatedRates<'_>,
    ) -> Vec<(Component, super::allowance::Beta)> {
        self.rates
            .parts(code, guessed, goods)
            .into_iter()
            .map(|part| {
                let rate = self
                    .rates
                    .rate(code, guessed, &part, stated(code, guessed, &part));
                (part, rate)
            })
            .collect()
    }

    /// The guessed constructions on which an operation was done to a kind of goods, with their shares; `None` as the
    /// only one if the operation was never done.
    pub fn guesses(&self, code: &str, goods: &Goods) -> Vec<(Option<Construction>, f64)> {
        let mut counts: BTreeMap<Option<&Construction>, f64> = BTreeMap::new();
        for one in self.samples(code, goods) {
            *counts.entry(one.guessed.as_ref()).or_default() += 1.0;
        }
        if counts.is_empty() {
            counts.insert(None, 1.0);
        }
        let all: f64 = counts.values().sum();
        counts
            .into_iter()
            .map(|(guess, count)| (guess.cloned(), count / all))
            .collect()
    }
}

/// Whether a job counts as finished, see the module.
fn is_finished(job: &JobFacts) -> bool {
    let done = job.ready_at.is_some() || job.handed_over_at.is_some();
    done && job.complaint.is_none() && !job.unrepaired
}

/// The lines on both shoes whose minutes are known.
pub(super) fn timed<'a>(
    samples: impl IntoIterator<Item = &'a LineSample>,
) -> impl Iterator<Item = &'a LineSample> {
    samples
        .into_iter()
        .filter(|one| one.work.both && one.work.minutes > 0.0)
}

/// The trade's norm as a median and a 90th percentile: the geometric mean of its least and most, and its most.
pub fn norm(code: &str) -> Spread {
    let Some(known) = operation(code) else {
        return UNKNOWN;
    };
    let (low, high) = (f64::from(known.minutes.low), f64::from(known.minutes.high));
    let p50 = (low * high).sqrt();
    Spread {
        p50,
        p90: if high > low { high } else { p50 * SURE },
    }
}

/// The usual repair of a part: the operation for its most likely damage.
pub fn usual_remedy(part: &Component) -> Option<&'static str> {
    remedies(part, conditions(part).first()?).first().copied()
}
