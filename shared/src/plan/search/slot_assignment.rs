//! Assigns each pair a time by which it is done, as if only the capacity model counted. Simulated annealing over very
//! many choices shows which pairs must be late, and about how late.

use crate::plan::capacity::CapacityModel;
use crate::plan::problem::PlanProblem;
use crate::plan::random_series::RandomSeries;
use crate::plan::search::moves::{root, stages};

/// How much worse a change may be on average, at first and at last, in days that a pair of mean weight is late.
pub(in crate::plan) const INITIAL_TEMPERATURE: (f64, f64) = (1.0, 0.01);
/// The same where it begins with good choices.
pub(in crate::plan) const WARM_START_TEMPERATURE: (f64, f64) = (0.3, 0.01);
/// The number of temperature stages.
const STAGES: u64 = 40;
/// The penalty for work that has no room in a slot, as a multiple of what it costs to do the work of a mean pair one
/// slot later.
const OVERLOAD_PENALTY: f64 = 3.0;
/// The greatest penalty for a minute, so that sums do not overflow.
const MOST_PRICE: f64 = 1_000_000.0;
/// The distances by which a choice is changed.
const NEIGHBOURHOOD_SIZES: [usize; 4] = [1, 3, 12, 1 << 20];
/// A day, in minutes.
const DAY: f64 = 1440.0;

/// A new choice for a pair.
#[derive(Debug, Clone, Copy, Default)]
struct SlotChange {
    pair: usize,
    from: usize,
    to: usize,
}

/// A change of one or two choices, and its cost.
#[derive(Debug, Clone, Copy, Default)]
struct Proposal {
    changes: [SlotChange; 2],
    count: usize,
    late: i64,
    cost: i64,
}

impl Proposal {
    /// The changes, of different pairs.
    fn changes(&self) -> &[SlotChange] {
        &self.changes[..self.count]
    }

    fn push(&mut self, change: SlotChange) {
        self.changes[self.count] = change;
        self.count += 1;
    }
}

/// A choice for each pair, and the cost of all choices.
#[derive(Debug, Clone)]
pub(in crate::plan) struct SlotAssignment<'l> {
    model: &'l CapacityModel,
    random: RandomSeries,
    room: Vec<i32>,
    /// The penalty for a minute of work that has no room, by slot.
    prices: Vec<i64>,
    /// The cost of a pair of mean weight that is late by a day.
    day: f64,
    /// The pairs that have more than one choice.
    movable: Vec<usize>,
    chosen: Vec<usize>,
    /// The minutes of work that must be done by the end of each slot.
    load: Vec<i32>,
    late: i64,
    cost: i64,
}

impl<'l> SlotAssignment<'l> {
    /// Begins with the earliest choice of every pair.
    pub(in crate::plan) fn new(problem: &PlanProblem, model: &'l CapacityModel, seed: u64) -> Self {
        let weight = problem.pairs.iter().map(|pair| pair.weight).sum::<u64>() as f64;
        let work = problem.ops.iter().map(|op| op.minutes).sum::<i64>();
        let price = OVERLOAD_PENALTY * weight / work.max(1) as f64;
        let next = model.slots.iter().skip(1).map(|end| *end as f64);
        let prices = model
            .slots
            .iter()
            .zip(next.map(Some).chain([None]))
            .map(|(end, next)| {
                let end = *end as f64;
                let gap = next.map_or(DAY, |next| next - end);
                (gap * price).clamp(1.0, MOST_PRICE) as i64
            });
        let mut assignment = Self {
            model,
            random: RandomSeries::of(seed ^ 0x0C40_05E5),
            room: model.room.clone(),
            prices: prices.collect(),
            day: DAY * weight / problem.pairs.len().max(1) as f64,
            movable: (0..model.pairs())
                .filter(|pair| model.of(*pair).len() > 1)
                .collect(),
            chosen: Vec::new(),
            load: Vec::new(),
            late: 0,
            cost: 0,
        };
        assignment.begin_soon();
        assignment
    }

    /// Sets the earliest choice of every pair.
    pub(in crate::plan) fn begin_soon(&mut self) {
        let model = self.model;
        self.begin_with((0..model.pairs()).map(|pair| model.of(pair).start).collect());
    }

    /// Sets how much of the open time work can fill, in thousandths (the rest is lost at the ends of windows); 1000 at
    /// first. The choices must be set again afterwards.
    pub(in crate::plan) fn fill(&mut self, thousandths: i64) {
        let room = self.model.room.iter();
        self.room = room
            .map(|room| (i64::from(*room) * thousandths / 1000) as i32)
            .collect();
    }

    /// The penalty for a minute of work that has no room, by slot.
    pub(in crate::plan) fn prices(&self) -> &[i64] {
        &self.prices
    }

    /// The weighted minutes late of the current choices.
    pub(in crate::plan) fn late(&self) -> i64 {
        self.late
    }

    /// Whether any pair has more than one choice.
    pub(in crate::plan) fn has_any(&self) -> bool {
        !self.movable.is_empty()
    }

    /// The choice of each pair.
    pub(in crate::plan) fn chosen(&self) -> &[usize] {
        &self.chosen
    }

    /// Tries so many changes, and ends with the best choices found.
    pub(in crate::plan) fn run(&mut self, trials: u64, temperatures: (f64, f64)) {
        let mut best = (self.cost, self.chosen.clone());
        let factor = root(temperatures.1 / temperatures.0, STAGES);
        let mut temperature = temperatures.0;
        for stage in stages(trials, STAGES) {
            for _ in stage {
                let Some(proposal) = self.propose(temperature) else {
                    continue;
                };
                self.accept(&proposal);
                if self.cost < best.0 {
                    best.0 = self.cost;
                    best.1.copy_from_slice(&self.chosen);
                }
            }
            temperature *= factor;
        }
        self.begin_with(best.1);
    }

    /// A change that costs not much more: on average, `temperature` days of a mean pair. None if the change drawn costs
    /// more, or would change nothing.
    fn propose(&mut self, temperature: f64) -> Option<Proposal> {
        let limit = self.cost + (self.random.exponential() * temperature * self.day) as i64;
        let mut proposal = self.changed()?;
        let late = |choice: usize| self.model.choices[choice].late;
        let changes = proposal.changes().iter();
        proposal.late = self.late
            + changes
                .map(|change| late(change.to) - late(change.from))
                .sum::<i64>();
        if proposal.late > limit {
            return None;
        }
        proposal.cost = proposal.late + self.too_much(proposal.changes());
        (proposal.cost <= limit).then_some(proposal)
    }

    /// Makes the change.
    fn accept(&mut self, proposal: &Proposal) {
        (self.late, self.cost) = (proposal.late, proposal.cost);
        for change in proposal.changes() {
            self.chosen[change.pair] = change.to;
            let minutes = self
                .model
                .minutes(change.to)
                .iter()
                .zip(self.model.minutes(change.from));
            for (load, (to, from)) in self.load.iter_mut().zip(minutes) {
                *load += to - from;
            }
        }
    }

    /// Sets the choice of each pair.
    pub(in crate::plan) fn begin_with(&mut self, chosen: Vec<usize>) {
        self.load = vec![0; self.model.slots.len()];
        for choice in &chosen {
            for (load, minutes) in self.load.iter_mut().zip(self.model.minutes(*choice)) {
                *load += minutes;
            }
        }
        self.late = chosen.iter().map(|choice| self.model.choices[*choice].late).sum();
        self.chosen = chosen;
        self.cost = self.late + self.too_much(&[]);
    }

    /// A random change: another choice for one pair, or for two of which one moves to where the other was.
    fn changed(&mut self) -> Option<Proposal> {
        let mut proposal = Proposal::default();
        let pair = self.any_pair();
        let from = self.chosen[pair];
        let mut to = self.near(pair);
        if self.random.below(2) == 0 {
            let other = self.any_pair();
            let there = self.chosen[other];
            let here = self.model.about(other, self.model.choices[from].by);
            if other != pair && here != there {
                if self.random.below(2) == 0 {
                    to = self.model.about(pair, self.model.choices[there].by);
                }
                proposal.push(SlotChange {
                    pair: other,
                    from: there,
                    to: here,
                });
            }
        }
        if to != from {
            proposal.push(SlotChange { pair, from, to });
        }
        (proposal.count > 0).then_some(proposal)
    }

    fn any_pair(&mut self) -> usize {
        self.movable[self.random.below(self.movable.len())]
    }

    /// A random choice of a pair near the one it has.
    fn near(&mut self, pair: usize) -> usize {
        let (of, now) = (self.model.of(pair), self.chosen[pair]);
        let reach = NEIGHBOURHOOD_SIZES[self.random.below(NEIGHBOURHOOD_SIZES.len())];
        let low = now.saturating_sub(reach).max(of.start);
        self.random.between(low, (now + reach).min(of.end - 1))
    }

    /// The penalty for the work that has no room after these changes.
    #[inline]
    fn too_much(&self, changes: &[SlotChange]) -> i64 {
        let slots = || self.load.iter().zip(&self.room).zip(&self.prices);
        let penalty = |load: i32, room: i32, price: i64| i64::from((load - room).max(0)) * price;
        let of = |change: &SlotChange| {
            let to = self.model.minutes(change.to).iter();
            to.zip(self.model.minutes(change.from))
                .map(|(to, from)| to - from)
        };
        match changes {
            [] => slots()
                .map(|((load, room), price)| penalty(*load, *room, *price))
                .sum(),
            [one] => {
                let slots = slots().zip(of(one));
                slots
                    .map(|(((load, room), price), one)| penalty(load + one, *room, *price))
                    .sum()
            }
            [one, other, ..] => {
                let slots = slots().zip(of(one).zip(of(other)));
                let costs = slots
                    .map(|(((load, room), price), (one, other))| penalty(load + one + other, *room, *price));
                costs.sum()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::plan::tests::random::any_instance;

    proptest! {
        #[test]
        fn changes_cost_what_the_choices_cost(instance in any_instance(12, 4, 2), seed in 0_u64..1_000) {
            let (problem, _) = PlanProblem::new(&instance);
            let model = CapacityModel::new(&problem);
            let mut assignment = SlotAssignment::new(&problem, &model, seed);
            prop_assume!(assignment.has_any());
            let begun = assignment.cost;
            for _ in 0..300 {
                if let Some(proposal) = assignment.propose(0.5) {
                    assignment.accept(&proposal);
                }
            }
            let stands = (assignment.cost, assignment.late, assignment.load.clone());
            assignment.begin_with(assignment.chosen.clone());
            prop_assert_eq!(stands, (assignment.cost, assignment.late, assignment.load.clone()));
            assignment.begin_soon();
            assignment.run(2_000, INITIAL_TEMPERATURE);
            prop_assert!(assignment.cost <= begun);
        }
    }
}
