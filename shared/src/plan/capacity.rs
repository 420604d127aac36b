//! The capacity model: how much work must be done by when, without the exact places of operations.
//!
//! Open time is cut into slots. For each pair and each of some times by which it may be done, the model holds how much
//! of its work must be done by the end of each slot if everything is done as late as that time allows. A combination of
//! such times, one for each pair, can only be kept if by the end of no slot more work must be done than there is room
//! for. The model ignores the ends of windows into which nothing fits and waits that nothing fills; they are small
//! beside the whole days by which good plans differ.

use super::calendar::FOREVER;
use super::problem::{Op, PairData, PlanProblem};

/// About how many slots there are.
const SLOTS: i64 = 48;
/// The room of all slots together, in percent of the work.
const ROOM: i64 = 125;

/// One time by which a pair may be done.
#[derive(Debug, Clone, Copy)]
pub(super) struct SlotChoice {
    /// The minute by which its last operation ends; [`FOREVER`] for a pair that is never late.
    pub(super) by: i64,
    /// The weighted minutes late if it ends exactly then.
    pub(super) late: i64,
    /// The index in [`CapacityModel::all_ends`] at which the ends of its operations begin.
    ends: usize,
}

/// The choices of all pairs, with the work that each needs by slot.
#[derive(Debug, Clone, Default)]
pub(super) struct CapacityModel {
    /// When each slot begins.
    pub(super) starts: Vec<i64>,
    /// When each slot ends.
    pub(super) slots: Vec<i64>,
    /// Minutes of work that all workers together can have done by the end of each slot.
    pub(super) room: Vec<i32>,
    /// The choices of all pairs, those of one pair together with the earliest first. The first one is in time, if the
    /// pair can be.
    pub(super) choices: Vec<SlotChoice>,
    /// The index of the first choice of each pair, and at last the number of choices.
    begin: Vec<usize>,
    /// For each choice and slot, the minutes of work that must be done by the end of the slot.
    minutes: Vec<i32>,
    /// For each choice, when each operation must end.
    ends: Vec<i64>,
}

impl CapacityModel {
    /// The choices of the pairs of this problem.
    pub(super) fn new(problem: &PlanProblem) -> Self {
        let mut model = Self {
            begin: vec![0],
            ..Self::default()
        };
        model.cut(problem);
        for (index, pair) in problem.pairs.iter().enumerate() {
            model.add(problem, pair, problem.alone(index).unwrap_or(0));
            model.begin.push(model.choices.len());
        }
        model
    }

    /// The choices of a pair, as a range of indices.
    pub(super) fn of(&self, pair: usize) -> std::ops::Range<usize> {
        self.begin[pair]..self.begin[pair + 1]
    }

    /// How many pairs there are.
    pub(super) fn pairs(&self) -> usize {
        self.begin.len() - 1
    }

    /// The earliest choice of a pair that is no earlier than `by`, or its last one.
    pub(super) fn about(&self, pair: usize, by: i64) -> usize {
        let of = self.of(pair);
        let sooner = self.choices[of.clone()].partition_point(|choice| choice.by < by);
        (of.start + sooner).min(of.end - 1)
    }

    /// The minutes of work that must be done for a choice, by slot.
    #[inline]
    pub(super) fn minutes(&self, choice: usize) -> &[i32] {
        let slots = self.slots.len();
        &self.minutes[choice * slots..(choice + 1) * slots]
    }

    /// When the operations of a pair must end for one of its choices, from its first operation.
    #[inline]
    pub(super) fn ends(&self, choice: usize) -> &[i64] {
        let until = self
            .choices
            .get(choice + 1)
            .map_or(self.ends.len(), |next| next.ends);
        &self.ends[self.choices[choice].ends..until]
    }

    /// The ends for all choices, one choice after another.
    pub(super) fn all_ends(&self) -> &[i64] {
        &self.ends
    }

    /// The index in [`Self::all_ends`] at which those of a choice begin.
    #[inline]
    pub(super) fn place_of_ends(&self, choice: usize) -> usize {
        self.choices[choice].ends
    }

    /// Cuts the windows into slots, as many as the work may need.
    fn cut(&mut self, problem: &PlanProblem) {
        let work: i64 = problem.ops.iter().map(|op| op.minutes + op.setup_minutes).sum();
        let workers = problem.workers as i64;
        let enough = work * ROOM / 100 + 1;
        let size = (enough / workers / SLOTS).max(1);
        let mut before = 0;
        for (opens, closes) in problem.calendar.windows() {
            let mut from = *opens;
            while from < *closes && before < enough {
                let until = if closes - from < size + size / 2 {
                    *closes
                } else {
                    from + size
                };
                before += (until - from) * workers;
                self.starts.push(from);
                self.slots.push(until);
                self.room.push(before as i32);
                from = until;
            }
        }
    }

    fn add(&mut self, problem: &PlanProblem, pair: &PairData, alone: i64) {
        if pair.due >= FOREVER && !pair.pinned {
            return self.push(problem, pair, FOREVER);
        }
        let last = &problem.ops[pair.last_op as usize];
        // A pair that is to be done first is done as early as possible.
        let soonest = if pair.pinned { alone } else { alone.max(pair.due) } - last.wait;
        self.push(problem, pair, soonest);
        if pair.pinned || pair.weight == 0 {
            return;
        }
        for slot in 0..self.slots.len() {
            if self.slots[slot] > soonest {
                self.push(problem, pair, self.slots[slot]);
            }
        }
    }

    fn push(&mut self, problem: &PlanProblem, pair: &PairData, by: i64) {
        let ends = self.ends.len();
        let done = by.saturating_add(problem.ops[pair.last_op as usize].wait);
        let late = (done.min(FOREVER) - pair.due).max(0);
        self.choices.push(SlotChoice {
            by,
            late: if by < FOREVER {
                pair.weight as i64 * late
            } else {
                0
            },
            ends,
        });
        self.ends.extend(latest(problem, pair, by));
        let from = self.minutes.len();
        self.minutes.resize(from + self.slots.len(), 0);
        let minutes = &mut self.minutes[from..];
        let ops = &problem.ops[pair.first_op as usize..=pair.last_op as usize];
        for (op, end) in ops.iter().zip(&self.ends[ends..]) {
            // Adds to each slot the part of the operation that is done in it.
            let (mut begin, end) = (end - op.minutes, *end);
            let mut slot = self.slots.partition_point(|slot| *slot <= begin);
            while begin < end && slot < minutes.len() {
                let until = self.slots[slot].min(end);
                minutes[slot] += (until - begin) as i32;
                begin = until;
                slot += 1;
            }
        }
        for slot in 1..minutes.len() {
            minutes[slot] += minutes[slot - 1];
        }
    }
}

/// The ends of all operations of a pair, from the first, if the last one ends by `by` and each is done as late as
/// possible, with no other pair in the way. Join windows are kept where they can be.
fn latest(problem: &PlanProblem, pair: &PairData, by: i64) -> Vec<i64> {
    let ops = &problem.ops[pair.first_op as usize..=pair.last_op as usize];
    // With a set-up and reheating it ends later by their minutes.
    let longest = |op: &Op| op.minutes + op.setup_minutes + op.rejoin;
    let mut ends = vec![FOREVER; ops.len()];
    if by >= FOREVER {
        return ends;
    }
    let (mut at, mut ceiling) = (ops.len() - 1, by);
    loop {
        let op = &ops[at];
        let end = problem.calendar.latest(ceiling, op.minutes);
        ends[at] = end;
        if let Some(next) = ops.get(at + 1)
            && (op.wait..FOREVER).contains(&op.join)
            && ends[at + 1] > end + op.join + longest(next)
        {
            // The next operation must move earlier to meet it.
            at += 1;
            ceiling = end + op.join + longest(next);
            continue;
        }
        if at == 0 {
            return ends;
        }
        at -= 1;
        ceiling = end - op.minutes - ops[at].wait;
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::instance::{Instance, PlanOperation};
    use super::super::tests::random::any_instance;
    use super::super::{SolveLimits, solve};
    use super::*;

    /// The instance without soft join windows.
    fn hard(mut instance: Instance) -> Instance {
        let all = instance.pairs.iter_mut().flat_map(|pair| &mut pair.operations);
        for operation in all.filter(|operation| operation.rejoin_minutes.is_some()) {
            *operation = PlanOperation {
                join_within: None,
                rejoin_minutes: None,
                ..operation.clone()
            };
        }
        instance
    }

    proptest! {
        /// No pair is done in time in any schedule unless the work that the choice asks for has been done by the end of
        /// each slot.
        #[test]
        fn what_is_asked_for_has_been_done(instance in any_instance(8, 4, 2).prop_map(hard), seed in 0_u64..100) {
            let limits = SolveLimits { iterations: Some(50), seed, ..SolveLimits::default() };
            let plan = solve(&instance, &limits).unwrap();
            let (problem, _) = PlanProblem::new(&instance);
            let model = CapacityModel::new(&problem);
            for (number, pair) in problem.pairs.iter().enumerate() {
                let blocks = || plan.blocks.iter().filter(|block| block.pair == pair.index);
                // Only attended minutes count: set-ups may take longer.
                let times: Vec<(i64, i64)> = blocks()
                    .zip(pair.first_op..)
                    .map(|(block, id)| (block.end - instance.now, problem.ops[id as usize].minutes))
                    .collect();
                let Some((end, _)) = times.last() else { continue };
                let choice = model.about(number, *end);
                if model.choices[choice].by < *end {
                    continue;
                }
                for (slot, asked) in model.slots.iter().zip(model.minutes(choice)) {
                    let done = times.iter().map(|(end, minutes)| (slot - (end - minutes)).clamp(0, *minutes));
                    prop_assert!(done.sum::<i64>() >= i64::from(*asked), "{number} by {slot}");
                }
            }
        }
    }
}
