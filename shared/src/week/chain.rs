//! The remaining work on a job as a chain of attended work and waits.
//!
//! Minutes are the trade's norms until the shop's own finished jobs show others; the counter's share of the day
//! lengthens them. Cement splits an operation: it is put on, dries to the touch, and is joined within its open time; if
//! that is missed, it is heated or coated again. A change of station costs a few minutes, which makes runs worthwhile.

use super::answers::FINAL_CHECK;
use super::cement::{cement_open_until, is_cemented};
use super::hours::Hours;
use super::job::Job;
use crate::log::entry::UnixMs;
use crate::plan::{PlanOperation, PlanPair, PossibleDamage};
use crate::price::job_statistics::{JobStatistics, StatedRates, usual_remedy};
use crate::trade::formulas::ready::DryingKind;
use crate::trade::{Component, Goods, WaitKind, operation};

/// Minutes of a change of station, including washing hands and laying out: common practice, no source.
const CHANGE: f64 = 8.0;
/// Minutes of heating or coating cement again: common practice, no source.
const COAT_AGAIN: f64 = 5.0;
/// The share of an operation with cement up to putting it on; and of an operation followed by another wait with an
/// entry of its own, the share before that wait. Common practice, no source.
const BEFORE: f64 = 0.4;
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
}

/// A chain, and for each of its parts the job's operation it belongs to; none for the final check.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Chain {
    pub(crate) pair: PlanPair,
    pub(crate) of: Vec<Option<usize>>,
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
        };
        for (at, code) in job.left.iter().enumerate() {
            let dries = job.dry.as_ref().and_then(|(_, what)| what.as_deref());
            let waits_on_itself = at == 0 && dries.is_some_and(|what| *code == what);
            self.add(&mut chain, (at, code), &job.goods, waits_on_itself);
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
        if let Some((dry, what)) = &job.dry {
            let open_until = cement_open_until(&job.left, Some((*dry, what.as_deref())));
            let dry = since(*dry);
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

    /// Adds an operation in its parts; if its wait is over, only the part after the wait.
    fn add(&self, chain: &mut Chain, (at, code): (usize, &str), goods: &Goods, waited: bool) {
        let spread = self.statistics.minutes(code, goods);
        let known = operation(code);
        let rest = self.rest_wait(code);
        let cemented = is_cemented(code);
        let part = |share: f64| {
            let minutes = self.hours.stretched(spread.p50 * share);
            PlanOperation {
                name: code.to_owned(),
                minutes,
                minutes_p90: Some(self.hours.stretched(spread.p90 * share).max(minutes)),
                setup: known.map(|known| known.station.as_str().to_owned()),
                setup_minutes: known.map_or(0, |_| self.hours.stretched(CHANGE)),
                ..PlanOperation::default()
            }
        };
        let mut parts = Vec::new();
        if waited {
            parts.push(PlanOperation {
                wait_min: if cemented { rest } else { 0 },
                ..part(1.0 - BEFORE)
            });
        } else if cemented {
            let open = DryingKind::ContactCement.usual().minutes;
            parts.push(PlanOperation {
                wait_min: open.low,
                join_within: Some(open.high),
                rejoin_minutes: Some(self.hours.stretched(COAT_AGAIN)),
                ..part(BEFORE)
            });
            parts.push(PlanOperation {
                wait_min: rest,
                ..part(1.0 - BEFORE)
            });
        } else {
            parts.push(PlanOperation {
                wait_min: rest,
                ..part(1.0)
            });
        }
        for part in parts {
            for piece in self.pieces(&part) {
                chain.pair.operations.push(piece);
                chain.of.push(Some(at));
            }
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

    /// The usual wait after an operation, without the drying of its cement, in minutes: the middle of the norm.
    fn rest_wait(&self, code: &str) -> u32 {
        let waits = operation(code).into_iter().flat_map(|known| known.bench_waits());
        let rest = waits.filter(|wait| wait.kind != WaitKind::CementTouchDry);
        rest.map(|wait| (wait.minutes.low + wait.minutes.high) / 2).sum()
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
                    wait_min: usual_remedy(&part).map_or(0, |code| self.rest_wait(code)),
                };
                all.push((part, hidden));
            }
        }
        all.into_iter().map(|(_, hidden)| hidden).collect()
    }
}

fn weight(job: &Job) -> u32 {
    match (job.rush, job.complaint) {
        (true, _) => RUSH,
        (false, true) => COMPLAINT,
        (false, false) => 1,
    }
}
