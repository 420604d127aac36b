//! The search over priorities: a pair, or part of its runs, is moved up or down the list in which runs choose their
//! gaps.

use crate::plan::construct::serial_schedule::{SerialSchedule, TrialLimit};
use crate::plan::problem::{PairData, PlanProblem};
use crate::plan::random_series::RandomSeries;
use crate::plan::search::moves::{Cooling, STAGES, regroup, stages};
use crate::plan::value::PlanCost;

/// How much worse a change may be on average, at first and at last, as a share of the initial cost.
pub(in crate::plan) const INITIAL_TEMPERATURE: (f64, f64) = (0.01, 0.000_5);
/// The same for a good initial list: a higher temperature would undo it.
pub(in crate::plan) const WARM_START_TEMPERATURE: (f64, f64) = (0.003, 0.000_5);
/// A change is given up when the list after the moved runs is worse by this share of the initial cost.
const MARGIN: f64 = 0.005;
/// The probabilities of moves, in percent: of whole pairs; of the latest of some pairs up or the earliest down; of a
/// pair whose runs stay spread over the list instead of being gathered in one place.
const WHOLE: usize = 90;
const AIMED: usize = 50;
const SPREAD: usize = 60;
/// The distances by which something is moved.
const NEIGHBOURHOOD_SIZES: [usize; 4] = [4, 16, 64, 1 << 20];

/// The search for better priorities.
pub(in crate::plan) struct PrioritySearch<'p> {
    problem: &'p PlanProblem,
    pub(in crate::plan) serial: SerialSchedule<'p>,
    random: RandomSeries,
    keys: Vec<(usize, u32)>,
    best: PlanCost,
    best_list: Vec<u32>,
}

/// A move, up or down the list, and the first and last place that it changes.
struct Moved {
    pair: u32,
    first: usize,
    last: usize,
    up: bool,
}

impl<'p> PrioritySearch<'p> {
    /// Begins with the best list made from these orders: by first operation, by the beginning of each pair, and by its
    /// end.
    pub(in crate::plan) fn new(
        problem: &'p PlanProblem,
        orders: &[Vec<u32>],
        holds: &[bool],
        seed: u64,
    ) -> Self {
        let mut serial = SerialSchedule::new(problem, holds);
        let mut best: Option<(PlanCost, Vec<u32>)> = None;
        let lists = orders.iter().flat_map(|order| by_order(problem, &serial, order));
        for list in lists.collect::<Vec<_>>() {
            serial.trial.copy_from_slice(&list);
            if let Some(value) = serial.evaluate(0, None)
                && best.as_ref().is_none_or(|(best, _)| value < *best)
            {
                best = Some((value, list));
            }
        }
        let (best, best_list) = best.unwrap_or_default();
        let mut ranks = Self {
            problem,
            serial,
            random: RandomSeries::of(seed),
            keys: Vec::new(),
            best,
            best_list,
        };
        ranks.back_to_best();
        ranks
    }

    /// The cost of the best list.
    pub(in crate::plan) fn value(&self) -> PlanCost {
        self.best
    }

    fn back_to_best(&mut self) {
        if self.best_list.len() == self.serial.trial.len() {
            self.serial.trial.copy_from_slice(&self.best_list);
        }
        if self.serial.evaluate(0, None).is_some() {
            self.serial.accept();
        }
    }

    /// Tries so many changes.
    pub(in crate::plan) fn run(
        &mut self,
        trials: u64,
        temperatures: (f64, f64),
        keep_going: &dyn Fn() -> bool,
    ) {
        self.back_to_best();
        let begun = self.serial.value();
        let mut cooling = Cooling::new(&begun, temperatures);
        let margin = (begun.guide as f64 * MARGIN) as u64;
        for stage in stages(trials, STAGES) {
            for trial in stage {
                if trial % 32 == 0 && !keep_going() {
                    return self.back_to_best();
                }
                self.attempt(&cooling, margin);
            }
            cooling.cool();
        }
        self.back_to_best();
    }

    fn attempt(&mut self, cooling: &Cooling, margin: u64) {
        let value = self.serial.value();
        let limit = cooling.limit(&value, &mut self.random);
        let Moved {
            pair,
            first,
            last,
            up,
        } = self.propose();
        let list = &self.serial.list[first..=last];
        let trial = &self.serial.trial[first..=last];
        let Some(same) = list.iter().zip(trial).position(|(one, other)| one != other) else {
            return;
        };
        let most = TrialLimit {
            value: limit,
            last,
            margin: limit.guide - value.guide + margin,
            moved: pair,
            gain: if up { self.serial.cost(pair) } else { 0 },
        };
        match self.serial.evaluate(first + same, Some(&most)) {
            Some(value) => {
                self.serial.accept();
                if value.cost() < self.best.cost() {
                    self.best = value;
                    self.best_list.copy_from_slice(&self.serial.list);
                }
            }
            None => self.serial.reject(first, last),
        }
    }

    /// Changes the list to be tried.
    fn propose(&mut self) -> Moved {
        let up = self.random.below(2) == 0;
        let id = self.pick(up);
        let pair = self.problem.pairs[self.problem.ops[id as usize].pair as usize];
        let (first, last) = self.part(id, &pair);
        let reach = NEIGHBOURHOOD_SIZES[self.random.below(NEIGHBOURHOOD_SIZES.len())];
        let spread = self.random.below(100) < SPREAD;
        let position = |run: u32| self.serial.position[run as usize] as usize;
        let (from, until) = (position(first), position(last));
        let floor = match self.serial.begins(first) {
            true => 0,
            false => position(first - 1) + 1,
        };
        let ceiling = match self.serial.ends(last) {
            true => self.serial.list.len() - 1,
            false => position(last + 1) - 1,
        };
        let distance = self.random.between(1, reach.min(self.serial.list.len()));
        let range = if up {
            (from.saturating_sub(distance).max(floor), until)
        } else {
            (from, (until + distance).min(ceiling))
        };
        let place = |place: usize| match (up, spread) {
            (true, true) => place.saturating_sub(distance).max(floor),
            (true, false) => range.0,
            (false, true) => (place + distance).min(ceiling),
            (false, false) => range.1,
        };
        regroup(&mut self.serial.trial, &mut self.keys, range, up, |at, run| {
            (first..=last).contains(&run).then(|| place(at))
        });
        Moved {
            pair: self.problem.ops[id as usize].pair,
            first: range.0,
            last: range.1,
            up,
        }
    }

    /// An operation whose pair is to be moved. In an aimed move, of a few, the one whose pair is latest (or earliest).
    fn pick(&mut self, up: bool) -> u32 {
        let count = self.problem.ops.len();
        let tries = if self.random.below(100) < AIMED { 4 } else { 1 };
        let mut best = (i64::MIN, 0);
        for _ in 0..tries {
            let id = self.random.below(count) as u32;
            let late = self.lateness(id);
            best = best.max((if up { late } else { -late }, id));
        }
        best.1
    }

    fn lateness(&self, id: u32) -> i64 {
        let pair = &self.problem.pairs[self.problem.ops[id as usize].pair as usize];
        let last = &self.problem.ops[pair.last_op as usize];
        let late = self.serial.spot(pair.last_op).end + last.wait - pair.due;
        if late > 0 {
            late.saturating_mul(pair.weight as i64)
        } else {
            late
        }
    }

    /// The first and last run to be moved.
    fn part(&mut self, id: u32, pair: &PairData) -> (u32, u32) {
        let run_of = |id: u32| self.serial.run_of[id as usize];
        let (first, run, last) = (run_of(pair.first_op), run_of(id), run_of(pair.last_op));
        match self.random.below(100) {
            kind if kind < WHOLE => (first, last),
            kind if kind % 3 == 0 => (run, last),
            kind if kind % 3 == 1 => (first, run),
            _ => (run, run),
        }
    }
}

/// Three lists of runs made from an order: by the first operation of each run, by the beginning of each pair, and by
/// its end.
fn by_order(problem: &PlanProblem, serial: &SerialSchedule<'_>, order: &[u32]) -> [Vec<u32>; 3] {
    let whole = |id: u32| {
        let pair = &problem.pairs[problem.ops[id as usize].pair as usize];
        serial.run_of[pair.first_op as usize]..=serial.run_of[pair.last_op as usize]
    };
    let ids = || order.iter().copied();
    let heads = ids().filter(|id| serial.runs[serial.run_of[*id as usize] as usize].0 == *id);
    let begun = ids().filter(|id| problem.ops[*id as usize].is_first);
    let ended = ids().filter(|id| problem.ops[*id as usize].is_last);
    [
        heads.map(|id| serial.run_of[id as usize]).collect(),
        begun.flat_map(whole).collect(),
        ended.flat_map(whole).collect(),
    ]
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::plan::tests::random::any_instance;

    /// The cost and the order of a list, evaluated from scratch.
    fn anew(problem: &PlanProblem, list: &[u32]) -> (PlanCost, Vec<u32>) {
        let mut serial = SerialSchedule::new(problem, &vec![false; problem.ops.len()]);
        serial.trial.copy_from_slice(list);
        serial.evaluate(0, None).unwrap();
        serial.accept();
        (serial.value(), serial.order())
    }

    proptest! {
        /// The cost after many changes is the cost of the whole list evaluated from scratch.
        #[test]
        fn changes_cost_what_the_whole_list_costs(instance in any_instance(14, 5, 2), seed in 0_u64..1_000) {
            let (problem, _) = PlanProblem::new(&instance);
            prop_assume!(!problem.ops.is_empty());
            let free = vec![false; problem.ops.len()];
            let order: Vec<u32> = (0..problem.ops.len() as u32).collect();
            let mut ranks = PrioritySearch::new(&problem, &[order], &free, seed);
            let begun = ranks.value();
            ranks.run(300, INITIAL_TEMPERATURE, &|| true);
            prop_assert!(ranks.value().cost() <= begun.cost());
            let (list, value) = (ranks.serial.list.clone(), ranks.serial.value());
            prop_assert_eq!(anew(&problem, &list), (value, ranks.serial.order()));
        }
    }
}
