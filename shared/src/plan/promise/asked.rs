//! What becomes of the new pairs: without a due time, and if a certain day is promised for them.
//!
//! Without a due time only the sum of completion times speaks for doing them soon, the last of the aims of the solver:
//! of many plans that are equally late, it may find one that does a pair of twenty minutes on the last day. So the day
//! on which a plan without a due time does them says nothing about earlier days. An earlier day is judged by the plans
//! that are made once it has been promised: one in which nothing matters more than that no other pair is later, and, if
//! that does not keep the day, one in which the new pairs count like all others.

use super::draws::{Draws, Turn, order, turns};
use crate::plan::alone::alone;
use crate::plan::answer::Plan;
use crate::plan::construct::timetable::Timetable;
use crate::plan::instance::Instance;
use crate::plan::problem::PlanProblem;
use crate::plan::solve::{SolveLimits, solve};
use crate::trade::formulas::InvalidField;

/// The greatest number of changes that are tried for the plan with a promised day; it begins with the plan without.
const CHANGES: u64 = 1_000;
/// The greatest weight of a pair in an instance.
const MOST_WEIGHT: u32 = 10_000;
/// The minutes of a day.
const DAY: i64 = 1440;
/// A day that is kept with less than this probability is asked about at the expense of other pairs.
const PRESSED_BELOW: f64 = 0.7;

/// The known pairs and the new ones, which have no due time.
pub(super) struct Asked<'a> {
    draws: Draws<'a>,
    limits: &'a SolveLimits<'a>,
}

/// What a promise for the end of a day means.
pub(super) struct AskedDay {
    /// The end of the day.
    pub(super) end: i64,
    /// The probability that it is kept, if no known pair is later for it.
    pub(super) kept: f64,
    /// The probability that it is kept, if known pairs may be later for it; not less than `kept`.
    pub(super) pressed: f64,
    /// The tags of the known pairs that are then late, and would not be otherwise.
    pub(super) late_instead: Vec<String>,
}

/// A plan, and when all new pairs are done in its simulations, the earliest first.
pub(super) struct Outlook {
    pub(super) plan: Plan,
    pub(super) done: Vec<i64>,
}

impl Outlook {
    /// The probability that all new pairs are done by a minute.
    pub(super) fn kept(&self, by: i64) -> f64 {
        share(&self.done, by)
    }

    /// The minute by which they are done with the probability `share`. None if the windows end before.
    pub(super) fn by(&self, share: f64) -> Option<i64> {
        let needed = (share * self.done.len() as f64).ceil() as usize;
        let by = self.done.get(needed.max(1) - 1).copied();
        by.filter(|done| *done < i64::MAX)
    }
}

impl<'a> Asked<'a> {
    /// `known`: the index of the first new pair of the instance.
    pub(super) fn of(all: &'a Instance, known: usize, limits: &'a SolveLimits<'a>) -> Self {
        let seed = limits.seed ^ 0x0DA7_0F12;
        Self {
            draws: Draws { all, known, seed },
            limits,
        }
    }

    /// The outlook if no day is promised: the new pairs make no pair late that has a due time.
    pub(super) fn without_day(&self) -> Result<Outlook, InvalidField> {
        Ok(self.outlook(solve(self.draws.all, self.limits)?))
    }

    /// The outlook of a plan.
    pub(super) fn outlook(&self, plan: Plan) -> Outlook {
        let done = self.draws.done(&turns(&plan));
        Outlook { plan, done }
    }

    /// What a promise for `end` means, planned again from a known plan; and the plan with it that spares the other
    /// pairs.
    pub(super) fn day(&self, end: i64, known: &Plan) -> Result<(AskedDay, Plan), InvalidField> {
        let careful = self.planned(end, known, true)?;
        let mut day = AskedDay {
            end,
            kept: 0.0,
            pressed: 0.0,
            late_instead: Vec::new(),
        };
        if self.is_no_later(&careful, known) {
            day.kept = self.simulated(&careful, end);
        }
        day.pressed = day.kept;
        if day.kept < PRESSED_BELOW {
            let pressed = self.planned(end, known, false)?;
            day.pressed = day.kept.max(self.simulated(&pressed, end));
            day.late_instead = self.late_instead(&pressed, known);
        }
        Ok((day, careful))
    }

    /// The plan if the new pairs are promised for `end`, begun with a known plan. `careful`: the other pairs weigh so
    /// much more that a minute for the new ones is worth next to nothing to them.
    fn planned(&self, end: i64, known: &Plan, careful: bool) -> Result<Plan, InvalidField> {
        let mut asked = self.draws.all.clone();
        let (others, new) = asked.pairs.split_at_mut(self.draws.known);
        let heaviest = others.iter().map(|pair| pair.weight).max().unwrap_or(1);
        for pair in new {
            pair.due = Some(end);
            if careful {
                pair.weight = 1;
            }
        }
        for pair in others.iter_mut().filter(|_| careful) {
            pair.weight *= MOST_WEIGHT / heaviest.max(1);
        }
        let limits = SolveLimits {
            iterations: Some(self.limits.iterations.unwrap_or(CHANGES).min(CHANGES)),
            near: Some(known),
            standing: None,
            bound: false,
            ..*self.limits
        };
        solve(&asked, &limits)
    }

    /// The probability that the new pairs are done by `end` if they are done as early as a plan allows; 0 without any
    /// simulation if the plan does them more than a day later.
    fn simulated(&self, plan: &Plan, end: i64) -> f64 {
        let new = plan.pairs.iter().filter(|done| done.pair >= self.draws.known);
        let done = new.map(|done| done.done).max();
        if done.is_none_or(|done| done > end + DAY) {
            return 0.0;
        }
        share(&self.draws.done(&self.sooner(plan)), end)
    }

    /// The first of these ends of days by which the new pairs could be done if there were no other work; the number of
    /// ends if there is none.
    pub(super) fn first_day(&self, ends: &[i64]) -> usize {
        let new = &self.draws.all.pairs[self.draws.known..];
        let done = new.iter().map(|pair| Some(alone(self.draws.all, pair)?.done));
        let done = done
            .collect::<Option<Vec<i64>>>()
            .and_then(|done| done.into_iter().max());
        let first = done.and_then(|done| ends.iter().position(|end| done <= *end));
        first.unwrap_or(ends.len())
    }

    /// The tags of the known pairs that are late in a plan and not in the other one.
    fn late_instead(&self, plan: &Plan, other: &Plan) -> Vec<String> {
        let late =
            |plan: &Plan, pair: usize| plan.pairs.iter().any(|done| done.pair == pair && done.late > 0);
        let known = 0..self.draws.known;
        let newly = known.filter(|pair| late(plan, *pair) && !late(other, *pair));
        newly.map(|pair| self.draws.all.pairs[pair].tag.clone()).collect()
    }

    /// Whether no known pair pays for a plan: no more are left out, those to be done first are done no later, and the
    /// others are no later together.
    fn is_no_later(&self, plan: &Plan, other: &Plan) -> bool {
        let (one, two) = (self.burden(plan), self.burden(other));
        one.0 <= two.0 && one.1 <= two.1 && one.2 <= two.2
    }

    /// Whether a plan is better than another one if the new pairs have no due time.
    pub(super) fn is_better(&self, plan: &Plan, other: &Plan) -> bool {
        let cost = |plan: &Plan| (self.burden(plan), plan.sum_completion);
        cost(plan) < cost(other)
    }

    /// The number of pairs left out, the sum of the ends of the pairs to be done first, and the weighted minutes late
    /// of the known pairs.
    fn burden(&self, plan: &Plan) -> (usize, i64, u64) {
        let (mut first, mut late) = (0, 0);
        for done in &plan.pairs {
            let pair = &self.draws.all.pairs[done.pair];
            if pair.first {
                first += done.done;
            }
            if done.pair < self.draws.known {
                late += u64::from(pair.weight) * done.late;
            }
        }
        (plan.left_out.len(), first, late)
    }

    /// The order of a plan, in which the operations of the new pairs have been moved forward as far as no known pair is
    /// left out or later because of it. They stay behind the pairs that are to be done first.
    fn sooner(&self, plan: &Plan) -> Vec<Turn> {
        let mut first = self.draws.all.clone();
        // Then their own ends count, apart from all others.
        for pair in &mut first.pairs[self.draws.known..] {
            pair.first = true;
        }
        let (problem, _) = PlanProblem::new(&first);
        let order = order(&problem, &turns(plan), &vec![0; first.pairs.len()]);
        let Some(mut timetable) = Timetable::new(&problem, &order, &[]) else {
            return turns(plan);
        };
        let is_new =
            |id: u32| problem.pairs[problem.ops[id as usize].pair as usize].index >= self.draws.known;
        let is_first = |id: u32| problem.pairs[problem.ops[id as usize].pair as usize].pinned;
        let behind = order.iter().rposition(|id| is_first(*id) && !is_new(*id));
        let behind = behind.map_or(0, |place| place + 1);
        for pair in problem.pairs.iter().filter(|pair| pair.index >= self.draws.known) {
            let mut from = behind;
            for id in pair.first_op..=pair.last_op {
                move_forward(&mut timetable, id, from);
                from = timetable.position(id) + 1;
            }
        }
        let turn = |id: &u32| {
            let pair = &problem.pairs[problem.ops[*id as usize].pair as usize];
            (pair.index, (id - pair.first_op) as usize)
        };
        timetable.order().iter().map(turn).collect()
    }
}

/// The share of sorted minutes that are no later than `by`.
fn share(done: &[i64], by: i64) -> f64 {
    let kept = done.partition_point(|done| *done <= by);
    kept as f64 / done.len().max(1) as f64
}

/// Moves an operation forward in the order, to the first place from `from` on at which it is done earlier and no pair
/// that has a due time is later.
fn move_forward(timetable: &mut Timetable<'_>, id: u32, from: usize) {
    let (place, now) = (timetable.position(id), timetable.value());
    for to in from..place {
        timetable.trial[to..=place].rotate_right(1);
        let trial = timetable.evaluate(to, place, None);
        let better = trial
            .is_some_and(|trial| trial.out <= now.out && trial.late <= now.late && trial.first < now.first);
        if better {
            return timetable.accept();
        }
        timetable.reject(to, place);
    }
}
