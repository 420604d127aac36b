//! The search over orders: single operations, and those of a pair together, are moved to and fro in the order they are
//! done in. It finds what ranks cannot say, such as one pair's operation between two others that are joined.

use super::chance::RandomSeries;
use super::moves::{Cooling, STAGES, regroup, stages};
use super::problem::PlanProblem;
use super::schedule::Schedule;
use super::timetable::Timing;
use super::value::PlanCost;

/// Of the cost to begin with, how much worse a change may be on average at first and at last.
const HEAT: (f64, f64) = (0.01, 0.000_04);
/// The same after a search over pairs: hotter would undo what it found.
const WARMTH: (f64, f64) = (0.003, 0.000_04);
/// How far something is moved.
const REACHES: [usize; 4] = [2, 6, 25, 120];
/// In percent: moves of one operation; changes of what is held, where anything can be; moves beside an operation with
/// the same set-up, where there are any.
const SINGLE: usize = 50;
const HOLDING: usize = 10;
const BESIDE: usize = 25;

/// Searches for a better order.
pub(super) struct Orders<'p> {
    problem: &'p PlanProblem,
    pub(super) timing: Timing<'p>,
    chance: RandomSeries,
    keys: Vec<(usize, u32)>,
    /// The operations with a join window that may be missed and can be kept.
    holdable: Vec<u32>,
    best: PlanCost,
    best_schedule: Schedule,
}

/// What was changed, to be put back.
enum OrderChange {
    Moved(usize, usize),
    Held(u32, usize, usize),
}

impl<'p> Orders<'p> {
    /// Begins where this schedule stands.
    pub(super) fn new(timing: Timing<'p>, seed: u64) -> Self {
        let problem = timing.problem;
        Self {
            problem,
            chance: RandomSeries::of(seed ^ 0x5DEE_CE66),
            keys: Vec::new(),
            holdable: (0..problem.ops.len() as u32)
                .filter(|id| problem.ops[*id as usize].can_be_held())
                .collect(),
            best: timing.value(),
            best_schedule: timing.schedule(),
            timing,
        }
    }

    /// The best schedule so far, and what it costs.
    pub(super) fn best_schedule(&self) -> (&Schedule, PlanCost) {
        (&self.best_schedule, self.best)
    }

    /// The best schedule, and what it costs. It is kept as it stands: reckoned anew from its order its join windows may
    /// be kept another way.
    pub(super) fn best(self) -> (Schedule, PlanCost) {
        (self.best_schedule, self.best)
    }

    /// Goes on from this schedule, whether or not it is better than the best so far.
    pub(super) fn go_on_from(&mut self, timing: Timing<'p>) {
        self.timing = timing;
        if self.timing.value().cost() < self.best.cost() {
            self.keep();
        }
    }

    fn keep(&mut self) {
        self.best = self.timing.value();
        self.timing.copy_schedule(&mut self.best_schedule);
    }

    /// Tries so many changes.
    pub(super) fn run(&mut self, trials: u64, keep_going: &dyn Fn() -> bool) {
        if self.problem.ops.len() < 2 {
            return;
        }
        let heat = if self.problem.has_chains() { WARMTH } else { HEAT };
        let mut cooling = Cooling::new(&self.timing.value(), heat);
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
        let limit = cooling.limit(&self.timing.value(), &mut self.chance);
        let Some(change) = self.propose() else {
            return;
        };
        let (OrderChange::Moved(first, last) | OrderChange::Held(_, first, last)) = change;
        match self.timing.reckon(first, last, Some(&limit)) {
            Some(value) => {
                self.timing.accept();
                if value.cost() < self.best.cost() {
                    self.keep();
                }
            }
            None => match change {
                OrderChange::Moved(first, last) => self.timing.reject(first, last),
                OrderChange::Held(id, ..) => self.timing.holds[id as usize] ^= true,
            },
        }
    }

    fn propose(&mut self) -> Option<OrderChange> {
        if !self.holdable.is_empty() && self.chance.below(100) < HOLDING {
            let id = self.holdable[self.chance.below(self.holdable.len())];
            self.timing.holds[id as usize] ^= true;
            return Some(OrderChange::Held(
                id,
                self.timing.position(id),
                self.timing.position(id + 1),
            ));
        }
        let id = self.chance.below(self.problem.ops.len()) as u32;
        let (first, last) = if self.problem.has_setups && self.chance.below(100) < BESIDE {
            self.move_beside(id)?
        } else if self.chance.below(100) < SINGLE {
            self.move_one(id)?
        } else {
            self.move_some(id)?
        };
        Some(OrderChange::Moved(first, last))
    }

    /// The places an operation can take between its neighbours in the chain.
    fn room(&self, first: u32, last: u32) -> (usize, usize) {
        let low = match self.problem.ops[first as usize].is_first {
            true => 0,
            false => self.timing.position(first - 1) + 1,
        };
        let high = match self.problem.ops[last as usize].is_last {
            true => self.problem.ops.len() - 1,
            false => self.timing.position(last + 1) - 1,
        };
        (low, high)
    }

    fn move_one(&mut self, id: u32) -> Option<(usize, usize)> {
        let at = self.timing.position(id);
        let (low, high) = self.room(id, id);
        let reach = REACHES[self.chance.below(REACHES.len())];
        let (low, high) = (low.max(at.saturating_sub(reach)), high.min(at + reach));
        if low == high {
            return None;
        }
        let to = self.chance.between(low, high - 1);
        let to = if to < at { to } else { to + 1 };
        if self.chance.below(2) == 0 {
            return self.exchange(at, to).or_else(|| Some(self.move_to(at, to)));
        }
        Some(self.move_to(at, to))
    }

    /// Two operations in each other's place, if the second one's chain allows it too.
    fn exchange(&mut self, at: usize, to: usize) -> Option<(usize, usize)> {
        let other = self.timing.order()[to];
        let (low, high) = self.room(other, other);
        if !(low..=high).contains(&at) {
            return None;
        }
        self.timing.trial.swap(at, to);
        Some((at.min(to), at.max(to)))
    }

    /// Behind another operation with the same set-up.
    fn move_beside(&mut self, id: u32) -> Option<(usize, usize)> {
        let setup = self.problem.ops[id as usize].setup;
        let at = self.timing.position(id);
        let (low, high) = self.room(id, id);
        let reach = REACHES[self.chance.between(1, REACHES.len() - 1)];
        let from = self
            .chance
            .between(low.max(at.saturating_sub(reach)), high.min(at + reach));
        let order = self.timing.order();
        let other = (from..=high.min(from + reach))
            .find(|place| *place != at && self.problem.ops[order[*place] as usize].setup == setup)?;
        let to = if other < at { other + 1 } else { other };
        (to != at).then(|| self.move_to(at, to))
    }

    fn move_to(&mut self, at: usize, to: usize) -> (usize, usize) {
        if to < at {
            self.timing.trial[to..=at].rotate_right(1);
            (to, at)
        } else {
            self.timing.trial[at..=to].rotate_left(1);
            (at, to)
        }
    }

    /// A pair's operations, all or those up to one or from one on, by the same distance.
    fn move_some(&mut self, id: u32) -> Option<(usize, usize)> {
        let pair = self.problem.pairs[self.problem.ops[id as usize].pair as usize];
        let (first, last) = match self.chance.below(4) {
            0 | 1 => (pair.first_op, pair.last_op),
            2 => (id, pair.last_op),
            _ => (pair.first_op, id),
        };
        let (low, high) = self.room(first, last);
        let (from, until) = (self.timing.position(first), self.timing.position(last));
        let up = self.chance.below(2) == 0;
        let reach = REACHES[self.chance.below(REACHES.len())];
        let distance = self.chance.between(1, reach);
        let range = if up {
            (from.saturating_sub(distance).max(low), until)
        } else {
            (from, (until + distance).min(high))
        };
        if range == (from, until) {
            return None;
        }
        regroup(&mut self.timing.trial, &mut self.keys, range, up, |place, id| {
            let to = if up {
                place.saturating_sub(distance).max(low)
            } else {
                (place + distance).min(high)
            };
            (first..=last).contains(&id).then_some(to)
        });
        Some(range)
    }
}
