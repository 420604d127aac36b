//! The search over the order in which whole pairs choose their places: the few that are late for all, and about when,
//! are soon found by it. What it cannot say is left to the searches that go on from there.

use super::chance::Chance;
use super::moves::{Cooling, STAGES};
use super::placing::{Most, Placing};
use super::problem::{Op, Problem};
use super::value::Value;

/// Of the cost to begin with, how much worse a change may be on average at first and at last.
const HEAT: (f64, f64) = (0.03, 0.000_5);
/// A change is given up when, past what was moved, it is worse by so much of the cost to begin with.
const MARGIN: f64 = 0.01;
/// In percent: exchanges of two pairs, the others are moved; moves that take of two pairs the one that costs more, or
/// less.
const EXCHANGE: usize = 30;
const AIMED: usize = 30;

/// Searches for a better order of pairs.
pub(super) struct Pairs<'p> {
    placing: Placing<'p>,
    chance: Chance,
    /// So many at the head of the list are to be done first and stay there.
    pinned: usize,
    best: Value,
    best_list: Vec<u32>,
}

impl<'p> Pairs<'p> {
    /// Begins with the best of these orders of operations: by each pair's first or by its last.
    pub(super) fn new(problem: &'p Problem, orders: &[Vec<u32>], seed: u64) -> Self {
        let mut placing = Placing::new(problem);
        let mut best: Option<(Value, Vec<u32>)> = None;
        for list in orders.iter().flat_map(|order| lists(problem, order)) {
            placing.trial.copy_from_slice(&list);
            if let Some(value) = placing.reckon((0, list.len()), None)
                && best.as_ref().is_none_or(|(best, _)| value < *best)
            {
                best = Some((value, list));
            }
        }
        let (best, best_list) = best.unwrap_or_default();
        Self {
            placing,
            chance: Chance::of(seed ^ 0x0A1E_57ED),
            pinned: problem.pairs.iter().filter(|pair| pair.pinned).count(),
            best,
            best_list,
        }
    }

    /// Tries so many changes. It is done early where nothing is late: says how many are left.
    pub(super) fn run(&mut self, trials: u64, keep_going: &dyn Fn() -> bool) -> u64 {
        let count = self.best_list.len();
        self.placing.trial.copy_from_slice(&self.best_list);
        if self.placing.reckon((0, count), None).is_some() {
            self.placing.accept();
        }
        let mut cooling = Cooling::new(&self.best, HEAT);
        let margin = (self.best.guide as f64 * MARGIN) as u64;
        for stage in 0..STAGES {
            for trial in trials * stage / STAGES..trials * (stage + 1) / STAGES {
                let is_done = self.is_in_time() || count < self.pinned + 2;
                if is_done || trial % 32 == 0 && !keep_going() {
                    return trials - trial;
                }
                self.attempt(&cooling, margin);
            }
            cooling.cool();
        }
        0
    }

    /// Whether nothing is late in the best order of pairs.
    pub(super) fn is_in_time(&self) -> bool {
        (self.best.out, self.best.late) == (0, 0)
    }

    /// The best order of operations.
    pub(super) fn order(&mut self) -> Vec<u32> {
        self.placing.order(&self.best_list)
    }

    fn attempt(&mut self, cooling: &Cooling, margin: u64) {
        let value = self.placing.value();
        let limit = cooling.limit(&value, &mut self.chance);
        let (first, last, up_past) = self.propose();
        let most = Most {
            value: limit,
            margin: limit.guide - value.guide + margin,
            up_past,
        };
        match self.placing.reckon((first, last), Some(&most)) {
            Some(value) => {
                self.placing.accept();
                if value.cost() < self.best.cost() {
                    self.best = value;
                    self.best_list.copy_from_slice(&self.placing.list);
                }
            }
            None => {
                let list = &self.placing.list[first..=last];
                self.placing.trial[first..=last].copy_from_slice(list);
            }
        }
    }

    /// Changes the list to be tried, and says from where to where, and by how much what is between has moved if
    /// something has come up before it.
    fn propose(&mut self) -> (usize, usize, Option<usize>) {
        let most = self.best_list.len() - 1;
        let from = self.pick(most);
        let to = self.chance.between(self.pinned, most - 1);
        let to = if to < from { to } else { to + 1 };
        let (first, last) = (from.min(to), from.max(to));
        let range = &mut self.placing.trial[first..=last];
        let up_past = if self.chance.below(100) < EXCHANGE {
            range.swap(0, last - first);
            Some(0)
        } else if from < to {
            range.rotate_left(1);
            None
        } else {
            range.rotate_right(1);
            Some(1)
        };
        (first, last, up_past)
    }

    /// The place of a pair to be moved, up to `most`.
    fn pick(&mut self, most: usize) -> usize {
        let one = self.chance.between(self.pinned, most);
        if self.chance.below(100) >= AIMED {
            return one;
        }
        let other = self.chance.between(self.pinned, most);
        let dearer = self.chance.below(2) == 0;
        if dearer == (self.placing.cost(other) > self.placing.cost(one)) {
            other
        } else {
            one
        }
    }
}

/// The pairs by their first and by their last operation in an order; those to be done first before all.
fn lists(problem: &Problem, order: &[u32]) -> [Vec<u32>; 2] {
    let by = |end: fn(&Op) -> bool| {
        let ops = order.iter().map(|id| &problem.ops[*id as usize]);
        let mut list: Vec<u32> = ops.filter(|op| end(op)).map(|op| op.pair).collect();
        list.sort_by_key(|pair| !problem.pairs[*pair as usize].pinned);
        list
    };
    [by(|op| op.is_first), by(|op| op.is_last)]
}

#[cfg(test)]
mod tests {
    use super::super::{Instance, Operation, Pair, dispatch};
    use super::*;

    /// Thirteen pairs of three operations, the second two joined, in windows with a night between.
    fn instance(workers: u32) -> Instance {
        let operation = |minutes, wait_min, join_within| Operation {
            minutes,
            wait_min,
            join_within,
            ..Operation::default()
        };
        let pair = |number: u32| Pair {
            tag: number.to_string(),
            ready: None,
            join_by: None,
            rejoin_minutes: 0,
            due: Some(i64::from(number % 4) * 100),
            weight: number % 5 + 1,
            first: number == 4,
            operations: vec![
                operation(5 + number * 7 % 11, 30, None),
                operation(4 + number * 5 % 7, 10, Some(35)),
                operation(9 + number % 8, 0, None),
            ],
            hidden: Vec::new(),
        };
        Instance {
            now: 0,
            windows: Some((0..20).map(|day| [day * 300, day * 300 + 120]).collect()),
            workers,
            pairs: (0..13).map(pair).collect(),
        }
    }

    #[test]
    fn changes_cost_what_the_whole_list_costs() {
        for workers in 1..=2 {
            let (problem, _) = Problem::new(&instance(workers));
            let orders: Vec<_> = dispatch::orders(&problem).collect();
            let mut pairs = Pairs::new(&problem, &orders, 7);
            let begun = pairs.best;
            pairs.run(2_000, &|| true);
            assert!(pairs.best.late > 0 && pairs.best.cost() < begun.cost());
            let mut anew = Placing::new(&problem);
            anew.trial.copy_from_slice(&pairs.best_list);
            assert_eq!(anew.reckon((0, 13), None), Some(pairs.best));
            assert!(problem.pairs[pairs.best_list[0] as usize].pinned);
        }
    }
}
