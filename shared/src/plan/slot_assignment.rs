//! By when each pair is done, as if only the loads counted: which pairs must be late, and about how late, shows by trying
//! very many choices.

use super::capacity::Loads;
use super::chance::RandomSeries;
use super::moves::{root, stages};
use super::problem::PlanProblem;

/// How much worse a change may be on average at first and at last, in days that a pair of mean weight is late.
pub(super) const INITIAL_TEMPERATURE: (f64, f64) = (1.0, 0.01);
/// The same where it begins near good choices.
pub(super) const WARMTH: (f64, f64) = (0.3, 0.01);
/// So often it grows cooler.
const STAGES: u64 = 40;
/// So many times what work of a mean pair costs that is done in the next slot rather than in this one is paid for work
/// that a slot has no room for.
const OVERLOAD_PENALTY: f64 = 3.0;
/// The most that is paid for a minute of it, so that sums do not overflow.
const DEAREST: f64 = 1_000_000.0;
/// How far a choice is changed.
const NEIGHBOURHOOD_SIZES: [usize; 4] = [1, 3, 12, 1 << 20];
/// A day, in minutes.
const DAY: f64 = 1440.0;

/// Another choice for a pair.
#[derive(Debug, Clone, Copy, Default)]
struct SlotChange {
    pair: usize,
    from: usize,
    to: usize,
}

/// A change of one pair's choice or of two, and what it comes to.
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

/// Choices for all pairs, and what they cost.
#[derive(Debug, Clone)]
pub(super) struct Choosing<'l> {
    loads: &'l Loads,
    chance: RandomSeries,
    room: Vec<i32>,
    /// What a minute of work costs for which there is no room by the end of a slot.
    prices: Vec<i64>,
    /// What a pair of mean weight costs that is late by a day.
    day: f64,
    /// The pairs that have a choice.
    movable: Vec<usize>,
    chosen: Vec<usize>,
    /// Minutes of work that must have been done, by slot.
    load: Vec<i32>,
    late: i64,
    cost: i64,
}

impl<'l> Choosing<'l> {
    /// Begins with every pair as soon as can be.
    pub(super) fn new(problem: &PlanProblem, loads: &'l Loads, seed: u64) -> Self {
        let weight = problem.pairs.iter().map(|pair| pair.weight).sum::<u64>() as f64;
        let work = problem.ops.iter().map(|op| op.minutes).sum::<i64>();
        let dearness = OVERLOAD_PENALTY * weight / work.max(1) as f64;
        let next = loads.slots.iter().skip(1).map(|end| *end as f64);
        let prices = loads
            .slots
            .iter()
            .zip(next.map(Some).chain([None]))
            .map(|(end, next)| {
                let end = *end as f64;
                let gap = next.map_or(DAY, |next| next - end);
                (gap * dearness).clamp(1.0, DEAREST) as i64
            });
        let mut choosing = Self {
            loads,
            chance: RandomSeries::of(seed ^ 0x0C40_05E5),
            room: loads.room.clone(),
            prices: prices.collect(),
            day: DAY * weight / problem.pairs.len().max(1) as f64,
            movable: (0..loads.pairs())
                .filter(|pair| loads.of(*pair).len() > 1)
                .collect(),
            chosen: Vec::new(),
            load: Vec::new(),
            late: 0,
            cost: 0,
        };
        choosing.begin_soon();
        choosing
    }

    /// Every pair as soon as can be.
    pub(super) fn begin_soon(&mut self) {
        let loads = self.loads;
        self.begin_with((0..loads.pairs()).map(|pair| loads.of(pair).start).collect());
    }

    /// Work fills so much of the open time, in thousandths: the rest is lost at the ends of windows. All of it, unless
    /// something else is said; choices are to be begun with again afterwards.
    pub(super) fn fill(&mut self, thousandths: i64) {
        let room = self.loads.room.iter();
        self.room = room
            .map(|room| (i64::from(*room) * thousandths / 1000) as i32)
            .collect();
    }

    /// What a minute of work costs for which there is no room by the end of a slot.
    pub(super) fn prices(&self) -> &[i64] {
        &self.prices
    }

    /// Weighted minutes late.
    pub(super) fn late(&self) -> i64 {
        self.late
    }

    /// Whether any pair has a choice.
    pub(super) fn has_any(&self) -> bool {
        !self.movable.is_empty()
    }

    /// The choice of each pair.
    pub(super) fn chosen(&self) -> &[usize] {
        &self.chosen
    }

    /// Tries so many changes, and stands at the best choices found.
    pub(super) fn run(&mut self, trials: u64, heat: (f64, f64)) {
        let mut best = (self.cost, self.chosen.clone());
        let factor = root(heat.1 / heat.0, STAGES);
        let mut warmth = heat.0;
        for stage in stages(trials, STAGES) {
            for _ in stage {
                let Some(proposal) = self.propose(warmth) else {
                    continue;
                };
                self.accept(&proposal);
                if self.cost < best.0 {
                    best.0 = self.cost;
                    best.1.copy_from_slice(&self.chosen);
                }
            }
            warmth *= factor;
        }
        self.begin_with(best.1);
    }

    /// A change that costs not much more, with `warmth` days of a mean pair on average; none if this one does, or nothing
    /// would change.
    fn propose(&mut self, warmth: f64) -> Option<Proposal> {
        let limit = self.cost + (self.chance.exponential() * warmth * self.day) as i64;
        let mut proposal = self.changed()?;
        let late = |choice: usize| self.loads.choices[choice].late;
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

    /// The change is made.
    fn accept(&mut self, proposal: &Proposal) {
        (self.late, self.cost) = (proposal.late, proposal.cost);
        for change in proposal.changes() {
            self.chosen[change.pair] = change.to;
            let minutes = self
                .loads
                .minutes(change.to)
                .iter()
                .zip(self.loads.minutes(change.from));
            for (load, (to, from)) in self.load.iter_mut().zip(minutes) {
                *load += to - from;
            }
        }
    }

    /// Begins with a choice of each pair.
    pub(super) fn begin_with(&mut self, chosen: Vec<usize>) {
        self.load = vec![0; self.loads.slots.len()];
        for choice in &chosen {
            for (load, minutes) in self.load.iter_mut().zip(self.loads.minutes(*choice)) {
                *load += minutes;
            }
        }
        self.late = chosen.iter().map(|choice| self.loads.choices[*choice].late).sum();
        self.chosen = chosen;
        self.cost = self.late + self.too_much(&[]);
    }

    /// Another choice for one pair; or for two, one of which goes where the other was.
    fn changed(&mut self) -> Option<Proposal> {
        let mut proposal = Proposal::default();
        let pair = self.any_pair();
        let from = self.chosen[pair];
        let mut to = self.near(pair);
        if self.chance.below(2) == 0 {
            let other = self.any_pair();
            let there = self.chosen[other];
            let here = self.loads.about(other, self.loads.choices[from].by);
            if other != pair && here != there {
                if self.chance.below(2) == 0 {
                    to = self.loads.about(pair, self.loads.choices[there].by);
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
        self.movable[self.chance.below(self.movable.len())]
    }

    /// A choice of a pair not far from the one it has.
    fn near(&mut self, pair: usize) -> usize {
        let (of, now) = (self.loads.of(pair), self.chosen[pair]);
        let reach = NEIGHBOURHOOD_SIZES[self.chance.below(NEIGHBOURHOOD_SIZES.len())];
        let low = now.saturating_sub(reach).max(of.start);
        self.chance.between(low, (now + reach).min(of.end - 1))
    }

    /// What the work costs for which there is no room, with these changes.
    #[inline]
    fn too_much(&self, changes: &[SlotChange]) -> i64 {
        let slots = || self.load.iter().zip(&self.room).zip(&self.prices);
        let dear = |load: i32, room: i32, price: i64| i64::from((load - room).max(0)) * price;
        let of = |change: &SlotChange| {
            let to = self.loads.minutes(change.to).iter();
            to.zip(self.loads.minutes(change.from))
                .map(|(to, from)| to - from)
        };
        match changes {
            [] => slots()
                .map(|((load, room), price)| dear(*load, *room, *price))
                .sum(),
            [one] => {
                let slots = slots().zip(of(one));
                slots
                    .map(|(((load, room), price), one)| dear(load + one, *room, *price))
                    .sum()
            }
            [one, other, ..] => {
                let slots = slots().zip(of(one).zip(of(other)));
                let costs = slots
                    .map(|(((load, room), price), (one, other))| dear(load + one + other, *room, *price));
                costs.sum()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::tests::random::any_instance;
    use super::*;

    proptest! {
        #[test]
        fn changes_cost_what_the_choices_cost(instance in any_instance(12, 4, 2), seed in 0_u64..1_000) {
            let (problem, _) = PlanProblem::new(&instance);
            let loads = Loads::new(&problem);
            let mut choosing = Choosing::new(&problem, &loads, seed);
            prop_assume!(choosing.has_any());
            let begun = choosing.cost;
            for _ in 0..300 {
                if let Some(proposal) = choosing.propose(0.5) {
                    choosing.accept(&proposal);
                }
            }
            let stands = (choosing.cost, choosing.late, choosing.load.clone());
            choosing.begin_with(choosing.chosen.clone());
            prop_assert_eq!(stands, (choosing.cost, choosing.late, choosing.load.clone()));
            choosing.begin_soon();
            choosing.run(2_000, INITIAL_TEMPERATURE);
            prop_assert!(choosing.cost <= begun);
        }
    }
}
