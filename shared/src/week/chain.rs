//! The remaining work on a job as a chain of attended work and waits.
//!
//! Minutes are the trade's norms until the shop's own finished jobs show others; the counter's share of the day
//! lengthens them. What dries splits an operation, as `parts` says: cement is put on, dries to the touch, and is joined
//! within its open time; if that is missed, it is heated or coated again. Soles that are sewn are wetted first, which is
//! done for all of them in one go. A change of station costs a few minutes, which makes runs worthwhile.

use super::answers::{FINAL_CHECK, WETTING};
use super::cement::{CementTimes, cement_open_until};
use super::hours::Hours;
use super::job::Job;
use super::parts::{NotedWait, WorkPart, parts_left, work_parts};
use crate::log::body::OperationCode;
use crate::log::entry::UnixMs;
use crate::plan::{PlanOperation, PlanPair, PossibleDamage};
use crate::price::job_statistics::{JobStatistics, StatedRates, usual_remedy};
use crate::trade::cement_guide::OwnCements;
use crate::trade::{Component, WaitKind, operation};

/// Minutes of a change of station, including washing hands and laying out: common practice, no source.
const CHANGE: f64 = 8.0;
/// Minutes of heating or coating cement again: common practice, no source.
const COAT_AGAIN: f64 = 5.0;
/// Minutes of the final check: common practice, no source.
const CHECKING: f64 = 6.0;
/// The share of the longest window into which an operation that is not interrupted has to fit; a longer one is done in
/// pieces.
const PIECE: f64 = 0.6;
/// The cost of a minute late for a pair wanted sooner than usual, for a complaint, and for any other: it is higher the
/// more the customer was promised. Common practice, no source.
const RUSH: u32 = 3;
const COMPLAINT: u32 = 2;

/// The data from which chains are made.
pub(crate) struct OnBench<'a> {
    /// The shop's calendar.
    pub(crate) hours: &'a Hours,
    /// The statistics of its finished jobs.
    pub(crate) statistics: &'a JobStatistics,
    /// The repairer's own estimates of how often hidden damage is found.
    pub(crate) stated_rates: StatedRates<'a>,
    /// The longest window, in minutes.
    pub(crate) longest: i64,
    /// The shop's own cements.
    pub(super) cements: OwnCements,
}

/// A chain, and for each of its parts the job's operation it belongs to; none for the final check.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Chain {
    pub(crate) pair: PlanPair,
    pub(crate) of: Vec<Option<usize>>,
    /// For each of its parts, what dries behind it.
    pub(super) dries: Vec<Option<WaitKind>>,
    /// For each of its parts, whether the operation is done with it.
    pub(super) finishes: Vec<bool>,
}

impl Chain {
    /// Where an operation of the chain is done: the station, or the operation itself if it has no station.
    pub(crate) fn place(&self, operation: usize) -> &str {
        let operation = &self.pair.operations[operation];
        operation.setup.as_deref().unwrap_or(&operation.name)
    }
}

impl OnBench<'_> {
    /// The chain of a job. The caller sets `due`.
    pub(crate) fn chain(&self, job: &Job, since: &dyn Fn(UnixMs) -> i64, now: i64) -> Chain {
        let mut chain = Chain {
            pair: PlanPair {
                tag: job.tag.clone(),
                ready: None,
                join_by: None,
                rejoin_minutes: 0,
                due: None,
                weight: weight(job),
                first: job.first || job.waits,
                operations: Vec::new(),
                hidden: Vec::new(),
            },
            of: Vec::new(),
            dries: Vec::new(),
            finishes: Vec::new(),
        };
        let wait = job.wait();
        for (at, code) in job.left.iter().enumerate() {
            let waits_on_itself = at == 0 && wait.is_some_and(|wait| wait.operation == Some(code.as_str()));
            let mut parts = work_parts(code, self.cement(code, job));
            if waits_on_itself {
                let noted = NotedWait {
                    dries: job.dries.as_deref(),
                    times: job.dried,
                };
                parts = parts_left(&parts, noted);
            }
            self.add(&mut chain, (at, code), job, &parts);
        }
        let check = PlanOperation {
            name: FINAL_CHECK.to_owned(),
            minutes: self.hours.stretched(CHECKING),
            setup: Some(FINAL_CHECK.to_owned()),
            setup_minutes: self.hours.stretched(CHANGE),
            ..PlanOperation::default()
        };
        chain.pair.operations.push(check);
        chain.of.push(None);
        chain.dries.push(None);
        chain.finishes.push(true);
        if let Some(wait) = wait {
            let next = job.left.first().map_or("", OperationCode::as_str);
            let open_until = cement_open_until(&job.left, Some(wait), self.cement(next, job));
            let dry = since(wait.ends);
            chain.pair.ready = (dry > now).then_some(dry);
            if let Some(until) = open_until {
                chain.pair.join_by = Some(since(until));
                chain.pair.rejoin_minutes = self.hours.stretched(COAT_AGAIN);
            }
        }
        if !job.begun {
            chain.pair.hidden = self.hidden(job);
        }
        chain
    }

    /// The times of the cement with which an operation is done on a pair: of the one that was named for a part of it, else
    /// of that for its materials.
    fn cement(&self, code: &str, job: &Job) -> CementTimes {
        let named = job.cements.get(code);
        let named = named.and_then(|cement| CementTimes::named(cement, &self.cements));
        named.unwrap_or_else(|| CementTimes::of(code, &job.materials, &self.cements))
    }

    /// Adds an operation in its parts.
    fn add(&self, chain: &mut Chain, (at, code): (usize, &str), job: &Job, parts: &[WorkPart]) {
        let spread = self.statistics.minutes(code, &job.goods);
        let amount = job.amount(code);
        let station = operation(code).map(|known| known.station.as_str());
        for part in parts {
            let minutes = self.hours.stretched(part.minutes(spread.p50 * amount));
            let place = if part.is_wetting() { Some(WETTING) } else { station };
            let planned = PlanOperation {
                name: code.to_owned(),
                minutes,
                minutes_p90: Some(
                    self.hours
                        .stretched(part.minutes(spread.p90 * amount))
                        .max(minutes),
                ),
                setup: place.map(str::to_owned),
                setup_minutes: place.map_or(0, |_| self.hours.stretched(CHANGE)),
                wait_min: part.wait_min,
                join_within: part.join_within,
                rejoin_minutes: part.join_within.map(|_| self.hours.stretched(COAT_AGAIN)),
            };
            for piece in self.pieces(&planned) {
                chain.dries.push(part.dries.filter(|_| piece.wait_min > 0));
                chain.pair.operations.push(piece);
                chain.of.push(Some(at));
                chain.finishes.push(false);
            }
        }
        if let Some(last) = chain.finishes.last_mut() {
            *last = true;
        }
    }

    /// Splits an operation that is too long for half a day into equal pieces.
    fn pieces(&self, part: &PlanOperation) -> Vec<PlanOperation> {
        let most = ((self.longest as f64 * PIECE) as u32).max(1);
        let count = part.minutes.div_ceil(most).max(1);
        let piece = |minutes: u32| minutes.div_ceil(count);
        (1..=count)
            .map(|number| {
                let last = number == count;
                PlanOperation {
                    minutes: piece(part.minutes),
                    minutes_p90: part.minutes_p90.map(piece),
                    wait_min: if last { part.wait_min } else { 0 },
                    join_within: part.join_within.filter(|_| last),
                    rejoin_minutes: part.rejoin_minutes.filter(|_| last),
                    ..part.clone()
                }
            })
            .collect()
    }

    /// The damage that its work may find.
    fn hidden(&self, job: &Job) -> Vec<PossibleDamage> {
        let mut all: Vec<(Component, PossibleDamage)> = Vec::new();
        for code in &job.left {
            let rates = self
                .statistics
                .hidden(code, job.guessed.as_ref(), &job.goods, self.stated_rates);
            for (part, rate) in rates {
                if all.iter().any(|(known, _)| *known == part) {
                    continue;
                }
                let hidden = PossibleDamage {
                    chance: rate.mean().clamp(0.0, 1.0),
                    minutes: self.hours.stretched(self.statistics.mending(&part).p50),
                    wait_min: usual_remedy(&part).map_or(0, wait_after),
                };
                all.push((part, hidden));
            }
        }
        all.into_iter().map(|(_, hidden)| hidden).collect()
    }
}

/// How long the next step waits after an operation, in minutes.
fn wait_after(code: &str) -> u32 {
    let parts = work_parts(code, CementTimes::usual());
    parts.last().map_or(0, |part| part.wait_min)
}

fn weight(job: &Job) -> u32 {
    match (job.rush, job.complaint) {
        (true, _) => RUSH,
        (false, true) => COMPLAINT,
        (false, false) => 1,
    }
}
