//! The search over by when each pair is to be done, with a schedule of each choice.
//!
//! The runs choose their places by when they must end, each pair being done as it has chosen. Only a change of choices
//! that looks good by the loads is tried, which is twenty times as quick as trying it.

use super::calendar::FOREVER;
use super::chance::Chance;
use super::choosing::{Choosing, Proposal};
use super::loads::Loads;
use super::moves::{Cooling, STAGES, root, stages};
use super::packing::{Most, Packing};
use super::problem::Problem;
use super::value::Value;

/// Of the cost to begin with, how much worse a change may be on average at first and at last.
const HEAT: (f64, f64) = (0.02, 0.000_5);
/// The same by the loads, in days that a pair of mean weight is late.
const WARMTH: (f64, f64) = (0.3, 0.03);
/// A change is given up when, past what was moved, it is worse by so much of the cost to begin with.
const MARGIN: f64 = 0.005;
/// So many changes are looked at for each that is tried.
const LOOKS: usize = 25;

/// Searches for better choices.
pub(super) struct Goals<'p> {
    problem: &'p Problem,
    loads: &'p Loads,
    choosing: Choosing<'p>,
    packing: Packing<'p>,
    chance: Chance,
    /// By when each run must end.
    goals: Vec<i64>,
    /// The runs of the pairs whose choice is being changed, by their new goals.
    moved: Vec<(i64, u32)>,
    best: Value,
    best_list: Vec<u32>,
}

impl<'p> Goals<'p> {
    /// Begins with choices.
    pub(super) fn new(
        problem: &'p Problem,
        loads: &'p Loads,
        choosing: Choosing<'p>,
        holds: &[bool],
        seed: u64,
    ) -> Self {
        let packing = Packing::new(problem, holds);
        let mut goals = Self {
            problem,
            loads,
            choosing,
            chance: Chance::of(seed ^ 0x0A1E_57ED),
            goals: vec![0; packing.runs.len()],
            moved: Vec::new(),
            best: Value::default(),
            best_list: packing.list.clone(),
            packing,
        };
        for pair in 0..loads.pairs() {
            goals.aim(pair, goals.choosing.chosen()[pair]);
        }
        for (goal, run) in goals.moved.drain(..) {
            goals.goals[run as usize] = goal;
        }
        let Self {
            packing, goals: by, ..
        } = &mut goals;
        packing.trial.sort_by_key(|run| (by[*run as usize], *run));
        goals.begin();
        goals.best = goals.packing.value();
        goals
    }

    /// What the best choices cost.
    pub(super) fn value(&self) -> Value {
        self.best
    }

    /// The list of runs they come to.
    pub(super) fn list(&self) -> &[u32] {
        &self.best_list
    }

    fn begin(&mut self) {
        if self.packing.reckon(0, None).is_some() {
            self.packing.accept();
        }
        self.best_list.copy_from_slice(&self.packing.list);
    }

    /// Tries so many changes. It is done early where nothing is late: says how many are left.
    pub(super) fn run(&mut self, trials: u64, keep_going: &dyn Fn() -> bool) -> u64 {
        let begun = self.best;
        let mut cooling = Cooling::new(&begun, HEAT);
        let margin = (begun.guide as f64 * MARGIN) as u64;
        let factor = root(WARMTH.1 / WARMTH.0, STAGES);
        let mut warmth = WARMTH.0;
        for stage in stages(trials, STAGES) {
            for trial in stage {
                let is_done = (self.best.out, self.best.late) == (0, 0) || !self.choosing.has_any();
                if is_done || trial % 32 == 0 && !keep_going() {
                    return trials - trial;
                }
                let mut looks = (0..LOOKS).filter_map(|_| self.choosing.propose(warmth));
                if let Some(proposal) = looks.next() {
                    self.attempt(&proposal, &cooling, margin);
                }
            }
            cooling.cool();
            warmth *= factor;
        }
        0
    }

    fn attempt(&mut self, proposal: &Proposal, cooling: &Cooling, margin: u64) {
        self.moved.clear();
        for change in proposal.changes() {
            self.aim(change.pair, change.to);
        }
        self.moved.sort_unstable();
        if let Some((first, last)) = self.arrange(proposal) {
            let most = self.most(proposal, last, cooling, margin);
            if self.packing.reckon(first, Some(&most)).is_none() {
                return self.packing.reject(first, last);
            }
            self.packing.accept();
        }
        self.choosing.accept(proposal);
        for (goal, run) in &self.moved {
            self.goals[*run as usize] = *goal;
        }
        if self.packing.value().cost() < self.best.cost() {
            self.best = self.packing.value();
            self.best_list.copy_from_slice(&self.packing.list);
        }
    }

    fn most(&mut self, proposal: &Proposal, last: usize, cooling: &Cooling, margin: u64) -> Most {
        let standing = self.packing.value();
        let value = cooling.limit(&standing, &mut self.chance);
        let changes = proposal.changes();
        let pair = |at: usize| changes[at.min(changes.len() - 1)].pair as u32;
        let sooner = changes.iter().filter(|change| change.to < change.from);
        Most {
            value,
            last,
            margin: value.guide - standing.guide + margin,
            moved: [pair(0), pair(1)],
            gain: sooner.map(|change| self.packing.cost(change.pair as u32)).sum(),
        }
    }

    /// The runs of a pair are to be moved to where a choice of it wants them.
    fn aim(&mut self, pair: usize, choice: usize) {
        let data = &self.problem.pairs[pair];
        // A pair to be done first goes before all.
        let sooner = if data.pinned { FOREVER } else { 0 };
        let ends = self.loads.ends(choice).iter().map(|end| end - sooner);
        let mut run = self.packing.run_of[data.first_op as usize];
        for (id, end) in (data.first_op..=data.last_op).zip(ends) {
            if self.packing.runs[run as usize].1 == id {
                self.moved.push((end, run));
                run += 1;
            }
        }
    }

    /// Makes a list to be tried of the one that stands, with the moved runs before the first that must end later. Says
    /// from where to where it is another one.
    fn arrange(&mut self, proposal: &Proposal) -> Option<(usize, usize)> {
        let goals = &self.goals;
        let packing = &mut self.packing;
        let goal = |run: u32| (goals[run as usize], run);
        let (mut begin, mut end) = (usize::MAX, 0);
        for moved in &self.moved {
            let from = packing.position[moved.1 as usize] as usize;
            let to = packing.list.partition_point(|run| goal(*run) < *moved);
            begin = begin.min(from).min(to);
            end = end.max(from + 1).max(to);
        }
        let mut moved = self.moved.iter().copied().peekable();
        let mut range: Option<(usize, usize)> = None;
        let mut place = begin;
        let mut put = |packing: &mut Packing<'_>, run: u32| {
            packing.trial[place] = run;
            if packing.list[place] != run {
                range = Some((range.map_or(place, |(first, _)| first), place));
            }
            place += 1;
        };
        for at in begin..end {
            let run = packing.list[at];
            let pair = packing.pair(run) as usize;
            if proposal.changes().iter().any(|change| change.pair == pair) {
                continue;
            }
            while let Some((_, before)) = moved.next_if(|before| *before < goal(run)) {
                put(packing, before);
            }
            put(packing, run);
        }
        for (_, run) in moved {
            put(packing, run);
        }
        range
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::ranks::{HEAT, Ranks};
    use super::super::tests::random::any_instance;
    use super::*;

    /// What a list costs, and in which order it puts everything, reckoned from nothing.
    fn anew(problem: &Problem, list: &[u32]) -> (Value, Vec<u32>) {
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
            let (problem, _) = Problem::new(&instance);
            prop_assume!(!problem.ops.is_empty());
            let free = vec![false; problem.ops.len()];
            let loads = Loads::new(&problem);
            let choosing = Choosing::new(&problem, &loads, seed);
            let mut goals = Goals::new(&problem, &loads, choosing, &free, seed);
            let begun = goals.value();
            goals.run(150, &|| true);
            prop_assert!(goals.value().cost() <= begun.cost());
            let (list, value) = (goals.packing.list.clone(), goals.packing.value());
            let order = goals.packing.order();
            prop_assert_eq!(anew(&problem, &list), (value, order));

            let mut ranks = Ranks::new(&problem, &[goals.list().to_vec()], &[], &free, seed);
            prop_assert_eq!(ranks.value(), goals.value());
            ranks.run(150, HEAT, &|| true);
            let (list, value) = (ranks.packing.list.clone(), ranks.packing.value());
            prop_assert_eq!(anew(&problem, &list), (value, ranks.packing.order()));
        }
    }
}
