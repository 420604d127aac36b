//! Simulated days of thirty pairs, in which people work as the plan says: how still the plan keeps, and what that costs in
//! lateness. Durations are lognormal about what the plan expects; pairs come in and questions are asked and answered at random
//! times. All of it invented: common practice, no source.
//!
//! `WAXEND_STEADY_DAYS=200 cargo test --release -p shared week::steady -- --nocapture` prints the figures of the plan's README.

#![cfg(feature = "zones")]

mod day30;
mod figures;

use std::collections::{BTreeMap, BTreeSet};

use serde_json::json;

use day30::{Day30, MINUTE, OPEN_MINUTES, OPENS, at};
use figures::{Counts, Figures};

use super::bench::{Bench, WeekInput};
use super::day_plan::DayPlan;
use super::facts::PlanFact;
use super::job::Job;
use super::run::run_told;
use super::standing_run::limits;
use super::{Run, WeekPlan};
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
                self.plan.take(
                    &PlanFact {
                        at: at(now),
                        jobs: changed.clone(),
                    },
                    &given,
                );
                let after = self.told(&given);
                self.compare(&before, &after, changed);
            }
        }
    }

    /// Counts whether the runs on top are others although their work was not done.
    fn compare(&mut self, before: &WeekPlan, after: &WeekPlan, changed: &BTreeMap<SubjectId, Option<Job>>) {
        for run in &before.runs {
            let left: Vec<SubjectId> = run
                .jobs
                .iter()
                .map(|one| one.job)
                .filter(|job| !changed.contains_key(job))
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

/// What a worker has in hand: the job, and when it is done.
#[derive(Clone)]
struct InHand {
    job: SubjectId,
    done: i64,
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
    let mut hands: Vec<Option<InHand>> = vec![None; hands];
    let mut happens = day.happens.iter().peekable();
    let mut now = 0;
    while now < 540 {
        take_up(&one, &mut hands, now, given);
        let done = hands.iter().flatten().map(|hand| hand.done).min();
        let next = [
            done,
            happens.peek().map(|(at, _)| *at),
            next_change(&one, now, given),
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
        now = next;
        let mut changed = BTreeMap::new();
        for hand in &mut hands {
            if let Some(done) = hand.take_if(|hand| hand.done <= now) {
                let job = one
                    .jobs
                    .get(&done.job)
                    .and_then(|job| after_work(job, now, given));
                changed.insert(done.job, job);
            }
        }
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
        if !changed.is_empty() {
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

/// Each free hand takes up what the plan says, if it can begin now.
fn take_up(one: &Simulated<'_>, hands: &mut [Option<InHand>], now: i64, given: &WeekInput<'_>) {
    let told = one.told(&WeekInput {
        now: at(now),
        ..*given
    });
    let busy: BTreeSet<SubjectId> = hands.iter().flatten().map(|hand| hand.job).collect();
    let open: Vec<&Run> = told
        .runs
        .iter()
        .filter(|run| run.now && !busy.contains(&run.jobs[0].job))
        .collect();
    for (hand, run) in hands.iter_mut().filter(|hand| hand.is_none()).zip(open) {
        let id = run.jobs[0].job;
        let job = &one.jobs[&id];
        let bench = Bench::of(vec![job.clone()], given);
        let chain = &bench.chains[0];
        // An operation in several pieces is done when its last one is.
        let pieces = chain.of.iter().take_while(|of| **of == chain.of[0]).count();
        let coat = run.jobs[0].coat;
        let operations = chain.pair.operations.iter().take(if coat { 1 } else { pieces });
        let expected: i64 = operations.map(|operation| i64::from(operation.minutes)).sum();
        let done = worked(now, one.day.takes(id, chain.pair.operations.len(), expected));
        *hand = Some(InHand { job: id, done });
    }
}

/// The minute at which so many minutes of work from `now` on are done, within the opening hours.
fn worked(now: i64, minutes: i64) -> i64 {
    let mut left = minutes;
    for [start, end] in OPEN_MINUTES {
        let from = now.max(start);
        let room = (end - from).max(0);
        if left <= room {
            return from + left;
        }
        left -= room;
    }
    540 + left
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
