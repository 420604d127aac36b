//! The plan of a day as a fold: it is solved at the shop's opening, and repaired at each fact since. The clock alone changes
//! nothing but times: so every device that has the same log shows the same plan, and nobody's next work changes under their
//! hands.

use std::collections::BTreeMap;

use super::bench::{Bench, WeekInput};
use super::facts::PlanFact;
use super::job::Job;
use super::opening::open_minutes;
use super::reasons::{UnderWay, reason};
use super::standing_run::{StandingRun, first_run, limits, long_runs, start_of, worker_of};
use crate::log::entry::{SubjectId, UnixMs};
use crate::plan::{
    MARGIN, PairOutcome, Plan, SolveLimits, StandingOperation, StandingPlan, Top, USUAL_WEIGHT, alone, slide,
    solve,
};
use crate::trade::formulas::day::Day;

/// The version of the fold. It is raised when the same log would give another plan.
pub(crate) const PLAN_VERSION: u32 = 2;
/// By how much another run must be better than one that somebody has begun, in weighted minutes late.
const BEGUN_MARGIN: u64 = 4 * MARGIN;
/// The fewest minutes that an operation is thought to take yet, however long it has been under way.
const LEAST_LEFT: u32 = 5;
/// The search for a better plan at a fact tries so many times fewer changes than the one at the opening.
const REPAIR: u64 = 2;

/// The plan that stands, after some facts of the day.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct DayPlan {
    /// The time of the last fact.
    at: UnixMs,
    /// Every job with work left, also those that are held.
    pub(crate) jobs: BTreeMap<SubjectId, Job>,
    /// When each operation begins.
    standing: Vec<StandingStart>,
    /// What each worker does now.
    pub(crate) runs: Vec<StandingRun>,
    /// The day on which each job is done, as it is shown.
    days: BTreeMap<SubjectId, ShownDay>,
    /// The weight of changes, in percent of the usual one.
    pub(super) weight: u64,
}

#[derive(Debug, Clone, PartialEq)]
struct StandingStart {
    job: SubjectId,
    name: String,
    start: UnixMs,
}

#[derive(Debug, Clone, PartialEq)]
struct ShownDay {
    day: Option<Day>,
    why: Option<String>,
}

impl DayPlan {
    /// The plan at the opening of the shop.
    pub(crate) fn opened(jobs: BTreeMap<SubjectId, Job>, given: &WeekInput<'_>) -> Self {
        let mut day = Self {
            at: given.now,
            jobs,
            weight: USUAL_WEIGHT,
            ..Self::default()
        };
        let bench = day.bench(given);
        // The instance was made here, so it is within the limits.
        if let Ok(plan) = solve(&bench.instance, &limits(bench.jobs.len(), 1)) {
            let plan = long_runs(&bench, plan, &|_| true);
            day.settle(given, (&bench, &plan), (None, false));
        }
        day
    }

    /// Repairs the plan at a fact; `given.now` is the time of the fact.
    pub(crate) fn take(&mut self, fact: &PlanFact, given: &WeekInput<'_>) {
        let mut why = None;
        let mut freed = false;
        for (id, after) in &fact.jobs {
            let under_way = self.under_way(*id, given);
            let before = self.jobs.get(id);
            freed |= is_interrupted(before, after.as_ref());
            why = why.or_else(|| reason(before, after.as_ref(), under_way));
            if comes_first(before, after.as_ref()) {
                // It no longer has a place to keep.
                self.standing.retain(|one| one.job != *id);
            }
            match after {
                Some(job) => drop(self.jobs.insert(*id, job.clone())),
                None => drop(self.jobs.remove(id)),
            }
        }
        self.at = given.now;
        let bench = self.bench(given);
        let stopped = self.go_on(&bench);
        let mut standing = self.standing(&bench);
        let begun = self.runs.iter().any(|run| run.begun);
        standing.top = match (&why, begun) {
            _ if freed => Top::Free,
            (None, _) => Top::Locked,
            (Some(_), false) => Top::Margin(MARGIN),
            (Some(_), true) => Top::Margin(BEGUN_MARGIN),
        };
        let limits = SolveLimits {
            standing: Some(&standing),
            ..limits(bench.jobs.len(), REPAIR)
        };
        if let Ok(mut plan) = solve(&bench.instance, &limits) {
            plan = long_runs(&bench, plan, &|pair| self.may_join_run(bench.jobs[pair].id));
            self.settle(given, (&bench, &plan), (why, stopped));
        }
    }

    /// The plan that stands, timed from `given.now`.
    pub(super) fn shown(&self, given: &WeekInput<'_>) -> (Bench, Plan) {
        let bench = self.bench(given);
        let plan = slide(&bench.instance, &self.standing(&bench)).unwrap_or_default();
        (bench, plan)
    }

    /// When a job is done, as it is shown. The clock alone changes the day only once the job could no longer be done on it, even
    /// if it came next.
    pub(super) fn shown_done(&self, bench: &Bench, plan: &Plan, done: &PairOutcome) -> i64 {
        let shown = self
            .days
            .get(&bench.jobs[done.pair].id)
            .and_then(|shown| shown.day);
        let Some(shown) = shown.filter(|shown| bench.week.day(done.done) != Some(*shown)) else {
            return done.done;
        };
        let begins = plan.blocks.iter().find(|block| block.pair == done.pair);
        if begins.is_none_or(|block| bench.week.day(block.start) > Some(shown)) {
            return done.done;
        }
        let next = alone(&bench.instance, &bench.instance.pairs[done.pair]);
        let possible = next.is_some_and(|next| bench.week.day(next.done) <= Some(shown));
        let closes = bench
            .week
            .closes(shown)
            .filter(|closes| possible && *closes > bench.instance.now);
        closes.unwrap_or(done.done)
    }

    /// Why a job is done on another day than was shown before; `None` if it is not.
    pub(crate) fn why_other_day(&self, job: SubjectId) -> Option<&str> {
        self.days.get(&job)?.why.as_deref()
    }

    /// The jobs that are not held as an instance. What is under way takes what is left of its time.
    fn bench(&self, given: &WeekInput<'_>) -> Bench {
        let free = self.jobs.values().filter(|job| !job.held);
        let mut free: Vec<Job> = free.cloned().collect();
        // The solver keeps the first of several equally good plans: so earlier promised days come first, then earlier
        // drop-offs.
        free.sort_by_key(|job| {
            (
                job.day.is_none(),
                job.day,
                job.ready_from.clone(),
                job.opened_at,
                job.id,
            )
        });
        let mut bench = Bench::of(free, given);
        for run in &self.runs {
            let Some((id, _)) = run.jobs.first() else { continue };
            let passed = open_minutes(given, run.since, given.now);
            let at = bench.jobs.iter().position(|job| job.id == *id);
            let operation = at.and_then(|at| bench.instance.pairs[at].operations.first_mut());
            if let Some(operation) = operation {
                let left = i64::from(operation.minutes + run.setting_up) - passed;
                operation.minutes = u32::try_from(left)
                    .unwrap_or(0)
                    .max(LEAST_LEFT.min(operation.minutes));
                operation.minutes_p90 = operation.minutes_p90.map(|p90| p90.max(operation.minutes));
            }
        }
        bench
    }

    /// Drops what is done from the runs, and what cannot go on. Returns whether a run came to its end by the latter.
    fn go_on(&mut self, bench: &Bench) -> bool {
        let mut stopped = false;
        for run in &mut self.runs {
            let last = run.jobs.last().copied();
            let before = (run.jobs.len(), run.jobs.first().copied());
            run.jobs.retain(|(id, left)| {
                let at = bench.jobs.iter().position(|job| job.id == *id);
                at.is_some_and(|at| {
                    bench.chains[at].pair.operations.len() >= *left && bench.chains[at].place(0) == run.place
                })
            });
            if run.jobs.first().copied() != before.1 {
                (run.since, run.setting_up) = (self.at, 0);
            }
            let begun = run.jobs.iter().filter_map(|(id, _)| self.jobs.get(id)?.run_begun);
            run.begun |= run.jobs.len() < before.0 || begun.into_iter().any(|at| at >= run.chosen);
            let held = |(id, _): (SubjectId, usize)| self.jobs.get(&id).is_some_and(|job| job.held);
            stopped |= run.jobs.is_empty() && last.is_some_and(held);
        }
        stopped
    }

    fn standing(&self, bench: &Bench) -> StandingPlan {
        let ids: Vec<String> = bench.jobs.iter().map(|job| job.id.to_string()).collect();
        let known: Vec<String> = self.standing.iter().map(|one| one.job.to_string()).collect();
        let operations = self
            .standing
            .iter()
            .zip(&known)
            .map(|(one, id)| StandingOperation {
                pair: id,
                name: &one.name,
                start: bench.week.since(one.start),
            });
        let mut standing = StandingPlan::matched(&bench.instance, &|pair| ids[pair].as_str(), operations);
        standing.weight = self.weight;
        let place = |id: SubjectId| {
            let mut places = self.runs.iter().flat_map(|run| run.jobs.iter().enumerate());
            places.find(|(_, (job, _))| *job == id).map(|(place, _)| place)
        };
        let jobs = bench.jobs.iter().enumerate();
        standing.runs = jobs.filter_map(|(at, job)| Some((at, place(job.id)?))).collect();
        standing
    }

    /// Makes a plan the one that stands. `why`: what has changed it, and whether a run could not go on for it.
    fn settle(
        &mut self,
        given: &WeekInput<'_>,
        (bench, plan): (&Bench, &Plan),
        (why, stopped): (Option<String>, bool),
    ) {
        let time = bench.week.time(bench.instance.now);
        let because = |why: &Option<String>, otherwise: &str| {
            words::plan::changed_at(&time, why.as_deref().unwrap_or(otherwise))
        };
        let mut former: Vec<StandingRun> = std::mem::take(&mut self.runs);
        let done = former.extract_if(.., |run| run.jobs.is_empty());
        let mut stations: Vec<String> = done.map(|run| run.place).collect();
        for worker in 0..bench.instance.workers as usize {
            let run = first_run(bench, plan, worker);
            // A worker who waits for what another one does first has nothing to do yet.
            let Some(first) = run.first().filter(|first| first.operation == 0) else {
                continue;
            };
            let id = bench.jobs[first.pair].id;
            let jobs = run.iter().map(|block| {
                let operations = &bench.chains[block.pair].pair.operations;
                (bench.jobs[block.pair].id, operations.len())
            });
            if let Some(at) = former
                .iter()
                .position(|run| run.jobs.iter().any(|(job, _)| *job == id))
            {
                let mut run = former.remove(at);
                // What another worker does now belongs to that worker's run.
                run.jobs
                    .retain(|(job, _)| worker_of(bench, plan, *job) == Some(worker));
                // What could begin first of the run goes first, and what has come in and goes with it is added.
                run.jobs.sort_by_key(|(job, _)| start_of(bench, plan, *job));
                let more = jobs.filter(|(job, _)| run.jobs.iter().all(|(id, _)| id != job));
                let more: Vec<_> = more.collect();
                run.jobs.extend(more);
                self.runs.push(run);
                continue;
            }
            self.runs.push(StandingRun {
                place: bench.chains[first.pair].place(0).to_owned(),
                jobs: jobs.collect(),
                chosen: self.at,
                since: bench.week.at(first.start).max(self.at),
                setting_up: 0,
                changed: None,
                begun: false,
            });
        }
        stations.extend(former.iter().map(|run| run.place.clone()));
        self.set_up(bench, stations);
        // A run that was not done and that nobody does any more has been replaced.
        if stopped || !former.is_empty() {
            self.say_why(&because(&why, words::plan::no_longer_fits()));
        }
        self.standing = starts(bench, plan);
        let why = because(&why, words::plan::other_pace());
        let (bench, plan) = self.shown(given);
        self.note_days(&bench, &plan, &why);
    }

    /// Says on the new runs what they were chosen for. If there are none, those who go on are told.
    fn say_why(&mut self, changed: &str) {
        let is_new = |run: &StandingRun| run.chosen == self.at;
        let any_new = self.runs.iter().any(is_new);
        for run in self.runs.iter_mut().filter(|run| !any_new || is_new(run)) {
            run.changed = Some(changed.to_owned());
        }
    }

    /// Whoever begins a new run goes to its station, if nobody who has ended a run stands there.
    fn set_up(&mut self, bench: &Bench, mut stations: Vec<String>) {
        for run in self.runs.iter_mut().filter(|run| run.chosen == self.at) {
            if let Some(there) = stations.iter().position(|place| *place == run.place) {
                stations.remove(there);
            } else if stations.pop().is_some() {
                let first = run.jobs.first().map(|(id, _)| *id);
                let at = bench.jobs.iter().position(|job| Some(job.id) == first);
                let operation = at.and_then(|at| bench.instance.pairs[at].operations.first());
                run.setting_up = operation.map_or(0, |operation| operation.setup_minutes);
            }
        }
    }

    /// Whether a job that needs the same work as the run on top may go with it: all may if a new run is chosen; else what is in
    /// the run, and what has come in just now.
    fn may_join_run(&self, job: SubjectId) -> bool {
        let in_run = self
            .runs
            .iter()
            .flat_map(|run| &run.jobs)
            .any(|(id, _)| *id == job);
        let chosen_anew = self.runs.iter().all(|run| run.jobs.is_empty());
        chosen_anew || in_run || self.standing.iter().all(|one| one.job != job)
    }

    fn note_days(&mut self, bench: &Bench, plan: &Plan, why: &str) {
        let mut days = BTreeMap::new();
        for done in &plan.pairs {
            let id = bench.jobs[done.pair].id;
            let day = bench.week.day(done.done);
            let shown = match self.days.remove(&id) {
                Some(shown) if shown.day == day => shown,
                Some(_) => ShownDay {
                    day,
                    why: Some(why.to_owned()),
                },
                None => ShownDay { day, why: None },
            };
            days.insert(id, shown);
        }
        self.days = days;
    }

    /// What is under way on a job.
    fn under_way(&self, id: SubjectId, given: &WeekInput<'_>) -> UnderWay {
        let run = self
            .runs
            .iter()
            .find(|run| run.jobs.iter().any(|(job, _)| *job == id));
        let Some(run) = run else {
            return UnderWay::default();
        };
        let is_first = run.jobs.first().is_some_and(|(job, _)| *job == id);
        let planned = is_first.then(|| {
            let bench = Bench::of(self.jobs.get(&id).cloned().into_iter().collect(), given);
            let minutes = bench.instance.pairs.first()?.operations.first()?.minutes;
            Some((
                i64::from(minutes + run.setting_up),
                open_minutes(given, run.since, given.now),
            ))
        });
        UnderWay {
            in_run: true,
            minutes: planned.flatten(),
        }
    }
}

/// Whether somebody was called away from the run of this job.
fn is_interrupted(before: Option<&Job>, after: Option<&Job>) -> bool {
    let at = |job: Option<&Job>| job.and_then(|job| job.run_interrupted);
    at(after).is_some() && at(after) != at(before)
}

/// Whether a job is now to be done before all others.
fn comes_first(before: Option<&Job>, after: Option<&Job>) -> bool {
    let first = |job: Option<&Job>| job.is_some_and(|job| job.first || job.waits);
    first(after) && !first(before)
}

fn starts(bench: &Bench, plan: &Plan) -> Vec<StandingStart> {
    let blocks = plan.blocks.iter().map(|block| StandingStart {
        job: bench.jobs[block.pair].id,
        name: block.name.clone(),
        start: bench.week.at(block.start),
    });
    blocks.collect()
}
