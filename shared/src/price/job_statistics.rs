//! What a shop's finished jobs teach: how long an operation takes, what is found in it, and how long that takes.
//!
//! Finished are jobs that are ready or gone, were paid for, and were not brought back as a complaint: what those took is in
//! the [`books`](super::books).

mod rates;

use std::collections::BTreeMap;

use super::lognormal::{Learnt, Spread};
use super::materials::usual_cost;
use super::minutes::Attended;
use super::records::JobFacts;
use super::work::{LineWork, StockOf, Timesheet, job_work};
use crate::trade::{Component, Construction, Goods, conditions, operation, remedies};
use rates::Rates;

/// As many pairs as a trade norm, or what is known of something wider, weighs.
const WEIGHT: f64 = 5.0;
/// What nobody knows the usual minutes of.
const UNKNOWN: Spread = Spread { p50: 20.0, p90: 40.0 };
/// A norm that is one number still spreads: one in ten takes a quarter longer.
const SURE: f64 = 1.25;

/// One paid line of one finished job.
#[derive(Debug, Clone, PartialEq)]
pub struct LineSample {
    /// The kind of goods.
    pub goods: Goods,
    /// The construction as guessed.
    pub guessed: Option<Construction>,
    /// The rate of tax in or on its price.
    pub tax: Option<i64>,
    /// Its work.
    pub work: LineWork,
}

/// What the finished jobs teach.
#[derive(Debug)]
pub struct JobStatistics {
    samples: BTreeMap<String, Vec<LineSample>>,
    minutes: BTreeMap<String, Learnt>,
    mending: BTreeMap<Component, Vec<f64>>,
    rates: Rates,
}

/// What the repairer says beforehand: of ten pairs with an operation on a construction, as guessed, how many have a part
/// damaged? `None` where they did not say.
pub type StatedRates<'a> = &'a dyn Fn(&str, Option<&Construction>, &Component) -> Option<f64>;

impl JobStatistics {
    /// Learns from every job the shop has.
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
            let seen: Vec<f64> = timed(samples).map(|one| one.work.minutes).collect();
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

    /// How long an operation takes on a kind of goods: the trade's norm, then the shop's own of all goods, then of these.
    pub fn minutes(&self, code: &str, goods: &Goods) -> Spread {
        let wider = self
            .minutes
            .get(code)
            .copied()
            .unwrap_or_else(|| Learnt::prior(norm(code), WEIGHT));
        let of_goods: Vec<f64> = self
            .samples(code, goods)
            .filter(|one| one.work.both && one.work.minutes > 0.0)
            .map(|one| one.work.minutes)
            .collect();
        wider.weighing(WEIGHT).after(&of_goods).next()
    }

    /// How long it takes to make a hidden damage good.
    pub fn mending(&self, part: &Component) -> Spread {
        let seen = self.mending.get(part).map_or(&[][..], Vec::as_slice);
        Learnt::prior(usual_remedy(part).map_or(UNKNOWN, norm), WEIGHT)
            .after(seen)
            .next()
    }

    /// The usual cost of the material that makes a hidden damage good, minor units.
    pub fn mending_materials(&self, part: &Component, stock: StockOf<'_>) -> f64 {
        usual_remedy(part).map_or(0.0, |code| usual_cost(&stock(code)))
    }

    /// How often each part is found damaged, and has to be made good for nothing, by an operation on a construction as
    /// guessed: the rate's beta law, for every part that the operation opens or ever showed.
    pub fn hidden(
        &self,
        code: &str,
        guessed: Option<&Construction>,
        goods: &Goods,
        said: StatedRates<'_>,
    ) -> Vec<(Component, super::allowance::Beta)> {
        self.rates
            .parts(code, guessed, goods)
            .into_iter()
            .map(|part| {
                let rate = self.rates.rate(code, guessed, &part, said(code, guessed, &part));
                (part, rate)
            })
            .collect()
    }

    /// The constructions as guessed on which an operation was done to a kind of goods, with their share; nobody's guess
    /// where it never was.
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

/// Whether a job can teach what work of its kind takes.
fn is_finished(job: &JobFacts) -> bool {
    let done = job.ready_at.is_some() || job.handed_over_at.is_some();
    done && job.complaint.is_none() && !job.unrepaired
}

/// Lines on both shoes whose minutes are known.
pub(super) fn timed<'a>(
    samples: impl IntoIterator<Item = &'a LineSample>,
) -> impl Iterator<Item = &'a LineSample> {
    samples
        .into_iter()
        .filter(|one| one.work.both && one.work.minutes > 0.0)
}

/// The trade's norm as a median and a 90th percentile: the geometric middle of its least and most, and its most.
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

/// What usually makes a part good: the answer to what is likeliest wrong with it.
pub fn usual_remedy(part: &Component) -> Option<&'static str> {
    remedies(part, conditions(part).first()?).first().copied()
}
