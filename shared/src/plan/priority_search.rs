//! The search over ranks: whole pairs, or part of one, are moved up and down the list by which runs choose their gaps.

use super::chance::RandomSeries;
use super::moves::{Cooling, STAGES, regroup, stages};
use super::problem::{PairData, PlanProblem};
use super::serial_schedule::{Most, Packing};
use super::value::PlanCost;

/// Of the cost to begin with, how much worse a change may be on average at first and at last.
pub(super) const INITIAL_TEMPERATURE: (f64, f64) = (0.01, 0.000_5);
/// The same where it begins with a good list: hotter would undo it.
pub(super) const WARMTH: (f64, f64) = (0.003, 0.000_5);
/// A change is given up when, past what was moved, it is worse by so much of the cost to begin with.
const MARGIN: f64 = 0.005;
/// In percent: moves of whole pairs, moves that look for the latest pair to move up or the earliest to move down, and
/// moves of a pair as it is spread over the list rather than gathered in one place.
const WHOLE: usize = 90;
const AIMED: usize = 50;
const SPREAD: usize = 60;
/// How far something is moved.
const NEIGHBOURHOOD_SIZES: [usize; 4] = [4, 16, 64, 1 << 20];

/// Searches for better ranks.
pub(super) struct Ranks<'p> {
    problem: &'p PlanProblem,
    pub(super) packing: Packing<'p>,
    chance: RandomSeries,
    keys: Vec<(usize, u32)>,
    best: PlanCost,
    best_list: Vec<u32>,
}

/// What was moved, up or down the list, and the places between which the list is another one.
struct Moved {
    pair: u32,
    first: usize,
    last: usize,
    up: bool,
}

impl<'p> Ranks<'p> {
    /// Begins with the best of these orders: as they stand, and pair by pair as they begin and end.
    pub(super) fn new(problem: &'p PlanProblem, orders: &[Vec<u32>], holds: &[bool], seed: u64) -> Self {
        let mut packing = Packing::new(problem, holds);
        let mut best: Option<(PlanCost, Vec<u32>)> = None;
        let lists = orders.iter().flat_map(|order| by_order(problem, &packing, order));
        for list in lists.collect::<Vec<_>>() {
            packing.trial.copy_from_slice(&list);
            if let Some(value) = packing.reckon(0, None)
                && best.as_ref().is_none_or(|(best, _)| value < *best)
            {
                best = Some((value, list));
            }
        }
        let (best, best_list) = best.unwrap_or_default();
        let mut ranks = Self {
            problem,
            packing,
            chance: RandomSeries::of(seed),
            keys: Vec::new(),
            best,
            best_list,
        };
        ranks.back_to_best();
        ranks
    }

    /// What the best list costs.
    pub(super) fn value(&self) -> PlanCost {
        self.best
    }

    fn back_to_best(&mut self) {
        if self.best_list.len() == self.packing.trial.len() {
            self.packing.trial.copy_from_slice(&self.best_list);
        }
        if self.packing.reckon(0, None).is_some() {
            self.packing.accept();
        }
    }

    /// Tries so many changes.
    pub(super) fn run(&mut self, trials: u64, heat: (f64, f64), keep_going: &dyn Fn() -> bool) {
        self.back_to_best();
        let begun = self.packing.value();
        let mut cooling = Cooling::new(&begun, heat);
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
        let value = self.packing.value();
        let limit = cooling.limit(&value, &mut self.chance);
        let Moved {
            pair,
            first,
            last,
            up,
        } = self.propose();
        let list = &self.packing.list[first..=last];
        let trial = &self.packing.trial[first..=last];
        let Some(same) = list.iter().zip(trial).position(|(one, other)| one != other) else {
            return;
        };
        let most = Most {
            value: limit,
            last,
            margin: limit.guide - value.guide + margin,
            moved: pair,
            gain: if up { self.packing.cost(pair) } else { 0 },
        };
        match self.packing.reckon(first + same, Some(&most)) {
            Some(value) => {
                self.packing.accept();
                if value.cost() < self.best.cost() {
                    self.best = value;
                    self.best_list.copy_from_slice(&self.packing.list);
                }
            }
            None => self.packing.reject(first, last),
        }
    }

    /// Changes the list to be tried.
    fn propose(&mut self) -> Moved {
        let up = self.chance.below(2) == 0;
        let id = self.pick(up);
        let pair = self.problem.pairs[self.problem.ops[id as usize].pair as usize];
        let (first, last) = self.part(id, &pair);
        let reach = NEIGHBOURHOOD_SIZES[self.chance.below(NEIGHBOURHOOD_SIZES.len())];
        let spread = self.chance.below(100) < SPREAD;
        let position = |run: u32| self.packing.position[run as usize] as usize;
        let (from, until) = (position(first), position(last));
        let floor = match self.packing.begins(first) {
            true => 0,
            false => position(first - 1) + 1,
        };
        let ceiling = match self.packing.ends(last) {
            true => self.packing.list.len() - 1,
            false => position(last + 1) - 1,
        };
        let distance = self.chance.between(1, reach.min(self.packing.list.len()));
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
        regroup(&mut self.packing.trial, &mut self.keys, range, up, |at, run| {
            (first..=last).contains(&run).then(|| place(at))
        });
        Moved {
            pair: self.problem.ops[id as usize].pair,
            first: range.0,
            last: range.1,
            up,
        }
    }

    /// An operation whose pair is to be moved: if it is aimed, of a few the one whose pair is latest, or earliest.
    fn pick(&mut self, up: bool) -> u32 {
        let count = self.problem.ops.len();
        let tries = if self.chance.below(100) < AIMED { 4 } else { 1 };
        let mut best = (i64::MIN, 0);
        for _ in 0..tries {
            let id = self.chance.below(count) as u32;
            let late = self.lateness(id);
            best = best.max((if up { late } else { -late }, id));
        }
        best.1
    }

    fn lateness(&self, id: u32) -> i64 {
        let pair = &self.problem.pairs[self.problem.ops[id as usize].pair as usize];
        let last = &self.problem.ops[pair.last_op as usize];
        let late = self.packing.spot(pair.last_op).end + last.wait - pair.due;
        if late > 0 {
            late.saturating_mul(pair.weight as i64)
        } else {
            late
        }
    }

    /// The first and last run to be moved.
    fn part(&mut self, id: u32, pair: &PairData) -> (u32, u32) {
        let run_of = |id: u32| self.packing.run_of[id as usize];
        let (first, run, last) = (run_of(pair.first_op), run_of(id), run_of(pair.last_op));
        match self.chance.below(100) {
            kind if kind < WHOLE => (first, last),
            kind if kind % 3 == 0 => (run, last),
            kind if kind % 3 == 1 => (first, run),
            _ => (run, run),
        }
    }
}

/// An order as lists of runs: by the first operation of each, and pair by pair.
fn by_order(problem: &PlanProblem, packing: &Packing<'_>, order: &[u32]) -> [Vec<u32>; 3] {
    let whole = |id: u32| {
        let pair = &problem.pairs[problem.ops[id as usize].pair as usize];
        packing.run_of[pair.first_op as usize]..=packing.run_of[pair.last_op as usize]
    };
    let ids = || order.iter().copied();
    let heads = ids().filter(|id| packing.runs[packing.run_of[*id as usize] as usize].0 == *id);
    let begun = ids().filter(|id| problem.ops[*id as usize].is_first);
    let ended = ids().filter(|id| problem.ops[*id as usize].is_last);
    [
        heads.map(|id| packing.run_of[id as usize]).collect(),
        begun.flat_map(whole).collect(),
        ended.flat_map(whole).collect(),
    ]
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::tests::random::any_instance;
    use super::*;

    /// What a list costs, and in which order it puts everything, reckoned from nothing.
    fn anew(problem: &PlanProblem, list: &[u32]) -> (PlanCost, Vec<u32>) {
        let mut packing = Packing::new(problem, &vec![false; problem.ops.len()]);
        packing.trial.copy_from_slice(list);
        packing.reckon(0, None).unwrap();
        packing.accept();
        (packing.value(), packing.order())
    }

    proptest! {
        /// However many changes led there.
        #[test]
        fn changes_cost_what_the_whole_list_costs(instance in any_instance(14, 5, 2), seed in 0_u64..1_000) {
            let (problem, _) = PlanProblem::new(&instance);
            prop_assume!(!problem.ops.is_empty());
            let free = vec![false; problem.ops.len()];
            let order: Vec<u32> = (0..problem.ops.len() as u32).collect();
            let mut ranks = Ranks::new(&problem, &[order], &free, seed);
            let begun = ranks.value();
            ranks.run(300, INITIAL_TEMPERATURE, &|| true);
            prop_assert!(ranks.value().cost() <= begun.cost());
            let (list, value) = (ranks.packing.list.clone(), ranks.packing.value());
            prop_assert_eq!(anew(&problem, &list), (value, ranks.packing.order()));
        }
    }
}
