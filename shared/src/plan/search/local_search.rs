//! Local search over the order of operations: single operations, or several of one pair, are moved within the order. It
//! finds what priorities of pairs cannot express, such as one pair's operation between two joined operations of
//! another.

use crate::plan::construct::timetable::Timetable;
use crate::plan::problem::PlanProblem;
use crate::plan::random_series::RandomSeries;
use crate::plan::schedule::Schedule;
use crate::plan::search::moves::{Cooling, STAGES, regroup, stages};
use crate::plan::value::PlanCost;

/// How much worse a change may be on average, at first and at last, as a share of the initial cost.
const INITIAL_TEMPERATURE: (f64, f64) = (0.01, 0.000_04);
/// The same after a search over priorities: a higher temperature would undo its result.
const WARM_START_TEMPERATURE: (f64, f64) = (0.003, 0.000_04);
/// The distances by which something is moved.
const NEIGHBOURHOOD_SIZES: [usize; 4] = [2, 6, 25, 120];
/// The probabilities of moves, in percent: of one operation; of a change of which join windows are kept, where there
/// are any; beside an operation with the same set-up, where there are any.
const SINGLE: usize = 50;
const HOLDING: usize = 10;
const BESIDE: usize = 25;

/// The search for a better order.
pub(in crate::plan) struct LocalSearch<'p> {
    problem: &'p PlanProblem,
    pub(in crate::plan) timetable: Timetable<'p>,
    random: RandomSeries,
    keys: Vec<(usize, u32)>,
    /// The operations with a soft join window that can be kept.
    holdable: Vec<u32>,
    best: PlanCost,
    best_schedule: Schedule,
}

/// A change, as it is needed to undo it.
enum OrderChange {
    Moved(usize, usize),
    Held(u32, usize, usize),
}

impl<'p> LocalSearch<'p> {
    /// Begins with this schedule.
    pub(in crate::plan) fn new(timetable: Timetable<'p>, seed: u64) -> Self {
        let problem = timetable.problem;
        Self {
            problem,
            random: RandomSeries::of(seed ^ 0x5DEE_CE66),
            keys: Vec::new(),
            holdable: (0..problem.ops.len() as u32)
                .filter(|id| problem.ops[*id as usize].can_be_held())
                .collect(),
            best: timetable.value(),
            best_schedule: timetable.schedule(),
            timetable,
        }
    }

    /// The best schedule so far, and its cost.
    pub(in crate::plan) fn best_schedule(&self) -> (&Schedule, PlanCost) {
        (&self.best_schedule, self.best)
    }

    /// The best schedule, and its cost. The schedule itself is kept: if it were timed again from its order, its join
    /// windows could be kept another way.
    pub(in crate::plan) fn best(self) -> (Schedule, PlanCost) {
        (self.best_schedule, self.best)
    }

    /// Goes on from this schedule, whether or not it is better than the best so far.
    pub(in crate::plan) fn go_on_from(&mut self, timetable: Timetable<'p>) {
        self.timetable = timetable;
        if self.timetable.value().cost() < self.best.cost() {
            self.keep();
        }
    }

    fn keep(&mut self) {
        self.best = self.timetable.value();
        self.timetable.copy_schedule(&mut self.best_schedule);
    }

    /// Tries so many changes.
    pub(in crate::plan) fn run(&mut self, trials: u64, keep_going: &dyn Fn() -> bool) {
        if self.problem.ops.len() < 2 {
            return;
        }
        let temperatures = if self.problem.has_chains() {
            WARM_START_TEMPERATURE
        } else {
            INITIAL_TEMPERATURE
        };
        let mut cooling = Cooling::new(&self.timetable.value(), temperatures);
        for stage in stages(trials, STAGES) {
            for trial in stage {
                if trial % 64 == 0 && !keep_going() {
                    return;
                }
                self.attempt(&cooling);
            }
            cooling.cool();
        }
    }

    fn attempt(&mut self, cooling: &Cooling) {
        let limit = cooling.limit(&self.timetable.value(), &mut self.random);
        let Some(change) = self.propose() else {
            return;
        };
        let (OrderChange::Moved(first, last) | OrderChange::Held(_, first, last)) = change;
        match self.timetable.evaluate(first, last, Some(&limit)) {
            Some(value) => {
                self.timetable.accept();
                if value.cost() < self.best.cost() {
                    self.keep();
                }
            }
            None => match change {
                OrderChange::Moved(first, last) => self.timetable.reject(first, last),
                OrderChange::Held(id, ..) => self.timetable.holds[id as usize] ^= true,
            },
        }
    }

    fn propose(&mut self) -> Option<OrderChange> {
        if !self.holdable.is_empty() && self.random.below(100) < HOLDING {
            let id = self.holdable[self.random.below(self.holdable.len())];
            self.timetable.holds[id as usize] ^= true;
            return Some(OrderChange::Held(
                id,
                self.timetable.position(id),
                self.timetable.position(id + 1),
            ));
        }
        let id = self.random.below(self.problem.ops.len()) as u32;
        let (first, last) = if self.problem.has_setups && self.random.below(100) < BESIDE {
            self.move_beside(id)?
        } else if self.random.below(100) < SINGLE {
            self.move_one(id)?
        } else {
            self.move_some(id)?
        };
        Some(OrderChange::Moved(first, last))
    }

    /// The range of places that an operation can take between its neighbours in the chain.
    fn room(&self, first: u32, last: u32) -> (usize, usize) {
        let low = match self.problem.ops[first as usize].is_first {
            true => 0,
            false => self.timetable.position(first - 1) + 1,
        };
        let high = match self.problem.ops[last as usize].is_last {
            true => self.problem.ops.len() - 1,
            false => self.timetable.position(last + 1) - 1,
        };
        (low, high)
    }

    fn move_one(&mut self, id: u32) -> Option<(usize, usize)> {
        let at = self.timetable.position(id);
        let (low, high) = self.room(id, id);
        let reach = NEIGHBOURHOOD_SIZES[self.random.below(NEIGHBOURHOOD_SIZES.len())];
        let (low, high) = (low.max(at.saturating_sub(reach)), high.min(at + reach));
        if low == high {
            return None;
        }
        let to = self.random.between(low, high - 1);
        let to = if to < at { to } else { to + 1 };
        if self.random.below(2) == 0 {
            return self.exchange(at, to).or_else(|| Some(self.move_to(at, to)));
        }
        Some(self.move_to(at, to))
    }

    /// Exchanges two operations, if the second one's chain allows it too.
    fn exchange(&mut self, at: usize, to: usize) -> Option<(usize, usize)> {
        let other = self.timetable.order()[to];
        let (low, high) = self.room(other, other);
        if !(low..=high).contains(&at) {
            return None;
        }
        self.timetable.trial.swap(at, to);
        Some((at.min(to), at.max(to)))
    }

    /// Moves an operation directly behind another with the same set-up.
    fn move_beside(&mut self, id: u32) -> Option<(usize, usize)> {
        let setup = self.problem.ops[id as usize].setup;
        let at = self.timetable.position(id);
        let (low, high) = self.room(id, id);
        let reach = NEIGHBOURHOOD_SIZES[self.random.between(1, NEIGHBOURHOOD_SIZES.len() - 1)];
        let from = self
            .random
            .between(low.max(at.saturating_sub(reach)), high.min(at + reach));
        let order = self.timetable.order();
        let other = (from..=high.min(from + reach))
            .find(|place| *place != at && self.problem.ops[order[*place] as usize].setup == setup)?;
        let to = if other < at { other + 1 } else { other };
        (to != at).then(|| self.move_to(at, to))
    }

    fn move_to(&mut self, at: usize, to: usize) -> (usize, usize) {
        if to < at {
            self.timetable.trial[to..=at].rotate_right(1);
            (to, at)
        } else {
            self.timetable.trial[at..=to].rotate_left(1);
            (at, to)
        }
    }

    /// Moves all operations of a pair, or those up to or from one of them, by the same distance.
    fn move_some(&mut self, id: u32) -> Option<(usize, usize)> {
        let pair = self.problem.pairs[self.problem.ops[id as usize].pair as usize];
        let (first, last) = match self.random.below(4) {
            0 | 1 => (pair.first_op, pair.last_op),
            2 => (id, pair.last_op),
            _ => (pair.first_op, id),
        };
        let (low, high) = self.room(first, last);
        let (from, until) = (self.timetable.position(first), self.timetable.position(last));
        let up = self.random.below(2) == 0;
        let reach = NEIGHBOURHOOD_SIZES[self.random.below(NEIGHBOURHOOD_SIZES.len())];
        let distance = self.random.between(1, reach);
        let range = if up {
            (from.saturating_sub(distance).max(low), until)
        } else {
            (from, (until + distance).min(high))
        };
        if range == (from, until) {
            return None;
        }
        regroup(
            &mut self.timetable.trial,
            &mut self.keys,
            range,
            up,
            |place, id| {
                let to = if up {
                    place.saturating_sub(distance).max(low)
                } else {
                    (place + distance).min(high)
                };
                (first..=last).contains(&id).then_some(to)
            },
        );
        Some(range)
    }
}
