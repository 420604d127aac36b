//! The inference for one person's day.

use std::collections::BTreeMap;

use super::rules::Rules;
use super::share::{DryingSpan, share_out};
use super::{GREETING_MS, TOGETHER_MS, VISIT_MS};

/// One act; times are in ms.
#[derive(Debug, Clone, Copy)]
pub(super) struct Act<'a, J> {
    pub(super) job: J,
    /// The operation; `None` where the act belongs to none.
    pub(super) operation: Option<&'a str>,
    pub(super) at: i64,
    pub(super) counter: bool,
    pub(super) noted: Option<u32>,
}

/// The attended minutes of one operation on one job.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Share {
    pub(super) minutes: f64,
    pub(super) noted: bool,
}

impl Share {
    /// Adds the minutes of another moment, day or person. Noted minutes replace inferred ones.
    pub(super) fn add(&mut self, other: Share) {
        if other.noted && !self.noted {
            *self = other;
        } else if other.noted == self.noted {
            self.minutes += other.minutes;
        }
    }
}

type Shares<'a, J> = BTreeMap<(J, Option<&'a str>), Share>;

/// One person's day.
#[derive(Debug)]
pub(super) struct Inference<'a, J> {
    /// By job and operation.
    pub(super) shares: Shares<'a, J>,
    /// Every stretch of work as it was measured, by operation, in minutes.
    pub(super) stretches: Vec<(&'a str, f64)>,
}

/// The attended minutes of one person's day, by job and operation.
pub(super) fn infer<'a, J: Copy + Ord>(
    mut acts: Vec<Act<'a, J>>,
    waits: &[DryingSpan<J>],
    rules: &Rules<'_>,
) -> Inference<'a, J> {
    acts.sort_by(|a, b| (a.at, a.counter, a.job, a.operation).cmp(&(b.at, b.counter, b.job, b.operation)));
    let mut day = Running {
        waits,
        rules,
        shares: BTreeMap::new(),
        stretches: Vec::new(),
        unnamed: BTreeMap::new(),
        before: Vec::new(),
        until: None,
        visit: false,
    };
    let together =
        |a: &Act<'_, J>, b: &Act<'_, J>| a.counter == b.counter && b.at.saturating_sub(a.at) <= TOGETHER_MS;
    for moment in acts.chunk_by(together) {
        if moment[0].counter {
            day.at_counter(moment);
        } else {
            day.at_bench(moment);
        }
    }
    day.finish()
}

struct Running<'a, 'r, J> {
    waits: &'r [DryingSpan<J>],
    rules: &'r Rules<'r>,
    shares: Shares<'a, J>,
    stretches: Vec<(&'a str, f64)>,
    /// Minutes on a job that belong to its next operation.
    unnamed: BTreeMap<J, f64>,
    /// Interrupted work, which belongs to the next stamp at the bench.
    before: Vec<(i64, i64)>,
    /// The time up to which minutes have been given out; `None` before the day's first stamp.
    until: Option<i64>,
    /// Whether the last stamp was one at the counter.
    visit: bool,
}

impl<'a, J: Copy + Ord> Running<'a, '_, J> {
    fn at_counter(&mut self, moment: &[Act<'a, J>]) {
        let (first, last) = ends(moment);
        if let Some(until) = self.until {
            let same_visit = self.visit && first.saturating_sub(until) <= VISIT_MS;
            let work_ends = first.saturating_sub(GREETING_MS);
            if !same_visit && work_ends > until {
                self.before.push((until, work_ends));
            }
        }
        self.until = Some(last);
        self.visit = true;
    }

    fn at_bench(&mut self, moment: &[Act<'a, J>]) {
        let (_, last) = ends(moment);
        let mut gaps = std::mem::take(&mut self.before);
        // Before the day's first step no work is recorded: an act at the counter does not say when work began.
        let known = self.until.is_some();
        gaps.extend(self.until.map(|until| (until, last)));
        self.until = Some(last);
        self.visit = false;

        let mut jobs: Vec<J> = moment.iter().map(|act| act.job).collect();
        jobs.sort_unstable();
        jobs.dedup();
        let shares = share_out(&gaps, &jobs, self.waits, last);
        let noted: f64 = moment.iter().filter_map(|act| act.noted).map(f64::from).sum();
        let rest = self.rest(moment, &jobs, &shares, noted);
        for (job, share) in jobs.into_iter().zip(shares) {
            self.give(moment, job, known.then_some(share * rest));
        }
    }

    /// How much of each share is left to the jobs without noted minutes.
    fn rest(&self, moment: &[Act<'a, J>], jobs: &[J], shares: &[f64], noted: f64) -> f64 {
        if noted <= 0.0 {
            return 1.0;
        }
        let all: f64 = shares.iter().sum();
        let open: f64 = jobs
            .iter()
            .zip(shares)
            .filter(|(job, _)| !is_noted(moment, **job))
            .map(|(_, share)| share)
            .sum();
        if open > 0.0 {
            ((all - noted).max(0.0) / open).min(all / open)
        } else {
            0.0
        }
    }

    /// Gives a job its share of a moment; `None` where its length is not known.
    fn give(&mut self, moment: &[Act<'a, J>], job: J, share: Option<f64>) {
        let mut names: Vec<&'a str> = Vec::new();
        for act in moment.iter().filter(|act| act.job == job) {
            if let Some(minutes) = act.noted {
                let minutes = f64::from(minutes);
                self.add(job, act.operation, Share { minutes, noted: true });
            }
            if let Some(name) = act.operation.filter(|name| !names.contains(name)) {
                names.push(name);
            }
        }
        if is_noted(moment, job) {
            self.unnamed.remove(&job);
            return;
        }
        let each = names.len().max(1) as f64;
        let limit = self.rules.limit(&names);
        let usual = |name: Option<&str>| name.and_then(self.rules.usual);
        let counted = |name: Option<&str>| match share {
            Some(share) if share <= limit => share / each,
            Some(share) => usual(name).map_or(0.0, |usual| usual.over.min(share / each)),
            None => usual(name).map_or(0.0, |usual| usual.minutes),
        };
        if names.is_empty() {
            *self.unnamed.entry(job).or_default() += counted(None);
            return;
        }
        let unnamed = self.unnamed.remove(&job).unwrap_or(0.0);
        for name in names {
            if let Some(share) = share.filter(|share| *share <= limit) {
                self.stretches.push((name, share / each));
            }
            let minutes = counted(Some(name)) + unnamed / each;
            self.add(
                job,
                Some(name),
                Share {
                    minutes,
                    noted: false,
                },
            );
        }
    }

    fn finish(mut self) -> Inference<'a, J> {
        for (job, minutes) in self.unnamed {
            self.shares.entry((job, None)).or_default().minutes += minutes;
        }
        Inference {
            shares: self.shares,
            stretches: self.stretches,
        }
    }

    fn add(&mut self, job: J, operation: Option<&'a str>, share: Share) {
        self.shares.entry((job, operation)).or_default().add(share);
    }
}

/// Whether the minutes of a job were noted in this moment.
fn is_noted<J: Copy + Ord>(moment: &[Act<'_, J>], job: J) -> bool {
    moment.iter().any(|act| act.job == job && act.noted.is_some())
}

/// When a moment began and ended. A moment is never empty.
fn ends<J>(moment: &[Act<'_, J>]) -> (i64, i64) {
    let at = |act: Option<&Act<'_, J>>| act.map_or(0, |act| act.at);
    (at(moment.first()), at(moment.last()))
}
