//! Simulated days of thirty pairs, in which people work as the plan says: how still the plan keeps, and what that costs in
//! lateness. Durations are lognormal about what the plan expects; going to another station and heating cement again
//! take the minutes that the plan counts for them; pairs come in and questions are answered at random times. All of it
//! invented: common practice, no source.
//!
//! `WAXEND_STEADY_DAYS=200 cargo test --release -p shared week::steady -- --nocapture` prints the figures of the plan's README.

#![cfg(feature = "zones")]

mod day30;
mod figures;
mod hands;

use std::collections::{BTreeMap, BTreeSet};

use serde_json::json;

use day30::{Day30, MINUTE, OPEN_MINUTES, OPENS, at};
use figures::{Counts, Figures};
use hands::{Hand, take_up};

use super::WeekPlan;
use super::bench::{Bench, WeekInput};
use super::day_plan::DayPlan;
use super::facts::PlanFact;
use super::job::Job;
use super::run::run_told;
use super::standing_run::limits;
use crate::log::entry::SubjectId;
use crate::log::fold::ShopState;
use crate::plan::{USUAL_WEIGHT, solve};
use crate::price::job_statistics::JobStatistics;
use crate::trade::formulas::day::Day;

/// How the plan follows what happens.
#[derive(Clone, Copy, PartialEq)]
enum Policy {
    /// Repaired at each fact, with this weight of changes.
    Steady(u64),
    /// Solved anew at each fact.
    Free,
}

/// One simulated day under one policy.
struct Simulated<'a> {
    day: &'a Day30,
    policy: Policy,
    plan: DayPlan,
    jobs: BTreeMap<SubjectId, Job>,
    counts: Counts,
}

impl Simulated<'_> {
    fn replan(&mut self, changed: &BTreeMap<SubjectId, Option<Job>>, now: i64, given: &WeekInput<'_>) {
        // What is only dry now is still to be done.
        let is_other = |(id, job): &(&SubjectId, &Option<Job>)| self.jobs.get(*id) != job.as_ref();
        let worked: BTreeSet<SubjectId> = changed.iter().filter(is_other).map(|(id, _)| *id).collect();
        for (id, job) in changed {
            match job {
                Some(job) => drop(self.jobs.insert(*id, job.clone())),
                None => drop(self.jobs.remove(id)),
            }
        }
        let given = WeekInput {
            now: at(now),
            ..*given
        };
        self.counts.facts += 1;
        match self.policy {
            Policy::Free => self.plan = DayPlan::opened(self.jobs.clone(), &given),
            Policy::Steady(_) => {
                let before = self.told(&given);
                let began = std::time::Instant::now();
                self.plan.take(
                    &PlanFact {
                        at: at(now),
                        jobs: changed.clone(),
                    },
                    &given,
                );
                eprintln!("REPAIR {} {}", self.jobs.len(), began.elapsed().as_micros());
                let after = self.told(&given);
                self.compare(&before, &after, &worked);
            }
        }
    }

    /// Counts whether the runs on top are others although their work was not done.
    fn compare(&mut self, before: &WeekPlan, after: &WeekPlan, changed: &BTreeSet<SubjectId>) {
        for run in &before.runs {
            let left: Vec<SubjectId> = run
                .jobs
                .iter()
                .map(|one| one.job)
                .filter(|job| !changed.contains(job))
                .collect();
            let goes_on = after
                .runs
                .iter()
                .any(|other| other.place == run.place && left.contains(&other.jobs[0].job));
            if left.is_empty() || !run.now || goes_on {
                continue;
            }
            self.counts.replaced += 1;
            let says_why = after.runs.iter().any(|run| run.changed.is_some());
            self.counts.unexplained += u32::from(!says_why);
        }
    }

    fn told(&self, given: &WeekInput<'_>) -> WeekPlan {
        run_told(&self.plan, given)
    }

    /// The days on which the pairs are done, as shown.
    fn days(&self, given: &WeekInput<'_>) -> BTreeMap<SubjectId, i64> {
        let (bench, plan) = self.plan.shown(given);
        let days = plan.pairs.iter().map(|done| {
            let day = bench
                .week
                .day(self.plan.shown_done(&bench, &plan, done))
                .map_or(0, Day::count);
            (bench.jobs[done.pair].id, day)
        });
        days.collect()
    }

    /// Lets the clock move on without a fact, and counts the days shown that change.
    fn wait(&mut self, from: i64, until: i64, given: &WeekInput<'_>) {
        let mut before = self.days(&WeekInput {
            now: at(from),
            ..*given
        });
        let mut now = from;
        while now + 5 < until {
            now += 5;
            let days = self.days(&WeekInput {
                now: at(now),
                ..*given
            });
            let changed = days
                .iter()
                .filter(|(id, day)| before.get(id).is_some_and(|old| old != *day));
            self.counts.moved += changed.count() as u32;
            self.counts.pair_hours += days.len() as f64 * 5.0 / 60.0;
            before = days;
        }
    }
}

fn work(seed: u64, hands: usize, policy: Policy, given: &WeekInput<'_>) -> Counts {
    let day = Day30::new(seed, hands);
    let mut one = Simulated {
        day: &day,
        policy,
        plan: DayPlan::opened(day.jobs.clone(), given),
        jobs: day.jobs.clone(),
        counts: Counts::default(),
    };
    if let Policy::Steady(weight) = policy {
        one.plan.weight = weight;
    }
    let mut hands = vec![Hand::default(); hands];
    let mut happens = day.happens.iter().peekable();
    let mut now = 0;
    while now < 540 {
        take_up(&one, &mut hands, now, given);
        let done = hands
            .iter()
            .filter_map(|hand| Some(hand.work.as_ref()?.done))
            .min();
        let next = [
            done,
            happens.peek().map(|(at, _)| *at),
            next_change(&one, now, given),
            clock_facts(&one, now).min(),
        ];
        let next = next
            .into_iter()
            .flatten()
            .min()
            .unwrap_or(540)
            .max(now + 1)
            .min(540);
        if policy != Policy::Free {
            one.wait(now, next, given);
        }
        let by_the_clock = clock_facts(&one, now).any(|fact| fact <= next);
        let mut changed = changes(&one, &mut hands, (now, next), given);
        now = next;
        while let Some((_, job)) = happens.next_if(|(at, _)| *at <= now) {
            let job = match one.jobs.get(&job.id) {
                Some(known) => Job {
                    held: false,
                    ..known.clone()
                },
                None => job.clone(),
            };
            changed.insert(job.id, Some(job));
        }
        if by_the_clock || !changed.is_empty() {
            one.replan(&changed, now, given);
        }
    }
    one.counts.late += lateness(
        &one.jobs,
        &WeekInput {
            now: at(now),
            ..*given
        },
    );
    one.counts
}

/// The jobs that are dry or on which an operation is done after one minute and by another.
fn changes(
    one: &Simulated<'_>,
    hands: &mut [Hand],
    (after, until): (i64, i64),
    given: &WeekInput<'_>,
) -> BTreeMap<SubjectId, Option<Job>> {
    let dry = one.jobs.values().filter(|job| is_dry_between(job, after, until));
    let mut changed: BTreeMap<SubjectId, Option<Job>> = dry.map(|job| (job.id, Some(job.clone()))).collect();
    for hand in hands {
        if let Some(done) = hand.work.take_if(|work| work.done <= until) {
            let job = one.jobs.get(&done.job);
            changed.insert(done.job, job.and_then(|job| after_work(job, until, given)));
        }
    }
    changed
}

/// The next minute at which the runs on top become possible, because something is dry or the shop opens again.
fn next_change(one: &Simulated<'_>, now: i64, given: &WeekInput<'_>) -> Option<i64> {
    let told = one.told(&WeekInput {
        now: at(now),
        ..*given
    });
    let starts = told.order.iter().map(|planned| (planned.at.0 - OPENS) / MINUTE);
    starts.filter(|start| *start > now).min()
}

/// The minutes after `now` at which the clock alone makes a fact: a wait ends, or the shop opens or closes.
fn clock_facts(one: &Simulated<'_>, now: i64) -> impl Iterator<Item = i64> {
    let ends = one.jobs.values().filter_map(Job::dry_from);
    let ends = ends.map(|end| (end.0 - OPENS) / MINUTE);
    let facts = ends.chain(OPEN_MINUTES.into_iter().flatten());
    facts.filter(move |fact| *fact > now)
}

/// Whether a wait of a job ends after one minute and by another.
fn is_dry_between(job: &Job, after: i64, until: i64) -> bool {
    job.dry_from()
        .is_some_and(|end| at(after) < end && end <= at(until))
}

/// A job after the next work on it: `None` once its final check is done.
fn after_work(job: &Job, now: i64, given: &WeekInput<'_>) -> Option<Job> {
    let bench = Bench::of(
        vec![job.clone()],
        &WeekInput {
            now: at(now),
            ..*given
        },
    );
    let chain = &bench.chains[0];
    let first = &chain.pair.operations[0];
    let code = job.left.first()?.clone();
    let mut after = job.clone();
    let dries = first.join_within.is_some();
    let wait = if dries {
        first.wait_min
    } else {
        let pieces = chain.of.iter().take_while(|of| **of == chain.of[0]).count();
        after.left.remove(0);
        chain.pair.operations[pieces - 1].wait_min
    };
    after.dry = (wait > 0).then(|| (at(now + i64::from(wait)), Some(code.to_string())));
    Some(after)
}

/// The weighted minutes late of what is left, planned as well as can be.
fn lateness(jobs: &BTreeMap<SubjectId, Job>, given: &WeekInput<'_>) -> f64 {
    let free = jobs.values().map(|job| Job {
        held: false,
        ..job.clone()
    });
    let bench = Bench::of(free.collect(), given);
    let plan = solve(&bench.instance, &limits(bench.jobs.len(), 1)).unwrap();
    plan.weighted_tardiness as f64
}

/// The number of days that were asked for; `None` in an ordinary run.
fn asked_days() -> Option<u64> {
    std::env::var("WAXEND_STEADY_DAYS").ok()?.parse().ok()
}

fn days_to_simulate() -> u64 {
    asked_days().unwrap_or(20)
}

/// Simulates some days under a weight of changes, and under planning freely as well if `compared`.
fn simulate(hands: usize, weight: u64, compared: bool) -> Vec<(Counts, Counts)> {
    let fields = serde_json::from_value(json!({ "hands": hands, "counter_share": 0 })).unwrap();
    let shop = ShopState::of_values(&fields);
    let statistics = JobStatistics::of(&[], &[], &|_| Vec::new());
    let given = WeekInput {
        shop: &shop,
        statistics: &statistics,
        stated_rates: &|_, _, _| None,
        now: at(0),
        zone: "Europe/Vienna",
        offset_min: 60,
    };
    let both = (0..days_to_simulate()).map(|seed| {
        let steady = work(seed, hands, Policy::Steady(weight), &given);
        let free = if compared {
            work(seed, hands, Policy::Free, &given)
        } else {
            steady
        };
        (steady, free)
    });
    both.collect()
}

fn keeps_still(hands: usize) {
    let weights: &[u64] = if asked_days().is_some() {
        &[0, 400, 1600, USUAL_WEIGHT]
    } else {
        &[USUAL_WEIGHT]
    };
    for weight in weights {
        let pairs = simulate(hands, *weight, asked_days().is_some());
        let figures = Figures::of(&pairs);
        eprintln!(
            "{hands} at the bench, weight {weight} %, {} days: {figures:?}",
            pairs.len()
        );
        if *weight == USUAL_WEIGHT {
            assert!(figures.unexplained == 0, "a run was replaced without a reason");
            assert!(
                figures.moved_an_hour <= 0.02,
                "the days shown change: {figures:?}"
            );
            assert!(
                figures.later <= 0.05 && figures.at_most <= 0.10,
                "later: {figures:?}"
            );
        }
    }
}

#[test]
fn the_plan_of_one_at_the_bench_keeps_still() {
    keeps_still(1);
}

#[test]
fn the_plan_of_two_at_the_bench_keeps_still() {
    keeps_still(2);
}
