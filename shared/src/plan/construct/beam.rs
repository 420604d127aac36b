//! A beam search: from the first minute on, a few partial schedules are kept side by side and extended.
//!
//! Every pair has a choice of the time by which it is done, see `slot_assignment`. From it follows when each remaining
//! operation must end, and so how much work must be done by the end of each slot. A partial schedule is judged by its
//! remaining work: work for which no room is left adds a penalty. A pair that can no longer keep its choice takes the
//! next one it can keep, and its lateness is that of the new choice.
//!
//! Schedules are compared within layers, which are minutes of work done: if they were compared by the number of
//! operations done, schedules full of short operations would win. Of two schedules in one layer that have done the same
//! operations, only the better one is kept.

use crate::plan::calendar::FOREVER;
use crate::plan::capacity::CapacityModel;
use crate::plan::problem::{PlanProblem, Spot, WorkerState};
use crate::plan::random_series::RandomSeries;

mod offers;
mod schedule;

use offers::Offers;
use schedule::{Child, PairProgress, PartialSchedule};

/// The number of layers in the length of a mean operation.
const LAYERS: i64 = 5;
/// Remaining room is scaled in parts; this many parts are all of it.
pub(in crate::plan) const WHOLE: i64 = 1024;
/// The cost of leaving out a pair of weight 1: more than any lateness before the overflow window.
const OUT: i64 = 1 << 36;
/// Stands for "no operation" before the first one.
const NONE: u32 = u32::MAX;

/// The memory for repeated searches of one problem, reused between runs.
pub(in crate::plan) struct Beam<'p> {
    problem: &'p PlanProblem,
    model: &'p CapacityModel,
    /// The penalty for a minute of work that has no room, by slot.
    prices: Vec<i64>,
    /// How many parts of the remaining room can be used for work, see [`Beam::fill`].
    filled: i64,
    /// For each end that a choice asks for, the slot by which the operation must be done.
    slot_of: Vec<u16>,
    /// The minutes of work in a layer.
    step: i64,
    pool: Vec<PartialSchedule>,
    unused: Vec<u32>,
    layers: Vec<Vec<Child>>,
    /// All operations placed so far, each with the index in this list of the operation before it.
    history: Vec<(u32, u32)>,
    offers: Offers,
    /// For the child being evaluated: the work it needs in each slot, and the pairs whose choice changes in it.
    need: Vec<i32>,
    shifts: Vec<(u32, u32)>,
    kept: Vec<u64>,
    best: Option<(i64, u32)>,
}

impl<'p> Beam<'p> {
    /// `prices` are those of [`crate::plan::search::slot_assignment::SlotAssignment`].
    pub(in crate::plan) fn new(problem: &'p PlanProblem, model: &'p CapacityModel, prices: &[i64]) -> Self {
        let work: i64 = problem.ops.iter().map(|op| op.minutes).sum();
        let slot_of = |end: &i64| model.slots.partition_point(|slot| slot < end) as u16;
        Self {
            problem,
            model,
            prices: prices.to_vec(),
            filled: WHOLE,
            slot_of: model.all_ends().iter().map(slot_of).collect(),
            step: (work / (LAYERS * problem.ops.len().max(1) as i64)).max(1),
            pool: Vec::new(),
            unused: Vec::new(),
            layers: Vec::new(),
            history: Vec::new(),
            offers: Offers::default(),
            need: vec![0; model.slots.len()],
            shifts: Vec::new(),
            kept: Vec::new(),
            best: None,
        }
    }

    /// Sets how many parts of [`WHOLE`] of the remaining room work can use; set-ups, reheating and gaps take the rest.
    pub(in crate::plan) fn fill(&mut self, parts: i64) {
        self.filled = parts;
    }

    /// How many states are evaluated when each layer keeps `width` of them.
    pub(in crate::plan) fn states(problem: &PlanProblem, width: u64) -> u64 {
        width * LAYERS as u64 * problem.ops.len() as u64
    }

    /// The order of all operations that the search finds for these choices, with `width` schedules in each layer.
    /// `holds` says which soft join windows are kept. None if every schedule reached a point at which a join window
    /// that must be kept cannot be kept.
    pub(in crate::plan) fn run(
        &mut self,
        chosen: &[usize],
        holds: &[bool],
        width: usize,
        keep_going: &dyn Fn() -> bool,
    ) -> Option<Vec<u32>> {
        self.begin(chosen);
        self.expand(0, holds);
        let mut layer = 0;
        while layer < self.layers.len() {
            let mut children = std::mem::take(&mut self.layers[layer]);
            if children.is_empty() {
                layer += 1;
                continue;
            }
            if !keep_going() {
                return None;
            }
            children.sort_unstable_by_key(Child::key);
            self.kept.clear();
            // A child that adds no minute of work belongs to the same layer.
            for child in &children {
                if self.kept.len() < width && !self.kept.contains(&child.hash) {
                    self.kept.push(child.hash);
                    self.follow(child, holds);
                }
                self.release(child.parent);
            }
        }
        self.best.map(|(_, last)| self.order(last))
    }

    /// The operations in the history up to `last`.
    fn order(&self, last: u32) -> Vec<u32> {
        let before = |(before, _): &(u32, u32)| self.history.get(*before as usize);
        let steps = std::iter::successors(self.history.get(last as usize), |step| before(step));
        let mut order: Vec<u32> = steps.map(|(_, id)| *id).collect();
        order.reverse();
        order
    }

    fn begin(&mut self, chosen: &[usize]) {
        self.pool.clear();
        self.unused.clear();
        self.layers.clear();
        self.history.clear();
        self.best = None;
        let mut root = PartialSchedule {
            workers: vec![WorkerState::IDLE; self.problem.workers],
            need: vec![0; self.model.slots.len()],
            late: chosen.iter().map(|choice| self.model.choices[*choice].late).sum(),
            last: NONE,
            ..PartialSchedule::default()
        };
        for ((pair, data), choice) in (0..).zip(&self.problem.pairs).zip(chosen) {
            let front = PairProgress {
                pair,
                next: data.first_op,
                choice: *choice as u32,
                after: data.ready,
                limit: data.join_by,
                ..PairProgress::default()
            };
            self.change_need(&mut root.need, &front, front.choice, 1);
            root.fronts.push(self.aimed(front));
        }
        self.pool.push(root);
    }

    /// The minute by which the next operation of a pair must end under one of its choices.
    #[inline]
    fn goal(&self, front: &PairProgress, choice: u32) -> i64 {
        let place = front.next - self.problem.pairs[front.pair as usize].first_op;
        self.model.ends(choice as usize)[place as usize]
    }

    /// The pair's progress with the latest start that its choice allows.
    #[inline]
    fn aimed(&self, front: PairProgress) -> PairProgress {
        let minutes = self.problem.ops[front.next as usize].minutes;
        PairProgress {
            by: self.goal(&front, front.choice) - minutes,
            ..front
        }
    }

    /// Adds (`sign` 1) or subtracts (`sign` -1) the remaining work of a pair in the slots in which a choice needs it.
    #[inline]
    fn change_need(&self, need: &mut [i32], front: &PairProgress, choice: u32, sign: i32) {
        let data = &self.problem.pairs[front.pair as usize];
        let ops = &self.problem.ops[front.next as usize..=data.last_op as usize];
        let from = self.model.place_of_ends(choice as usize) + (front.next - data.first_op) as usize;
        for (op, slot) in ops.iter().zip(&self.slot_of[from..]) {
            // Work without a limit belongs to no slot.
            if let Some(need) = need.get_mut(*slot as usize) {
                *need += sign * op.minutes as i32;
            }
        }
    }

    /// Puts the possible next operations of a state into their layers.
    fn expand(&mut self, at: u32, holds: &[bool]) {
        let mut state = std::mem::take(&mut self.pool[at as usize]);
        let mut offers = std::mem::take(&mut self.offers);
        offers.of(self.problem, &state, holds);
        for (front, spot) in offers.iter() {
            let late = self.look(&state, front, &spot);
            let (used, slot) = self.used(&state, &spot);
            let child = Child {
                cost: late + self.too_much(used, slot),
                used,
                hash: state.hash ^ RandomSeries::of(u64::from(state.fronts[front as usize].next)).bits(),
                parent: at,
                front,
                spot,
            };
            let layer = (used / self.step) as usize;
            if self.layers.len() <= layer {
                self.layers.resize_with(layer + 1, Vec::new);
            }
            self.layers[layer].push(child);
            state.pending += 1;
        }
        if state.pending == 0 {
            self.unused.push(at);
        }
        self.offers = offers;
        self.pool[at as usize] = state;
    }

    /// Counts down the waiting children of a state, and frees it after the last one.
    fn release(&mut self, at: u32) {
        let state = &mut self.pool[at as usize];
        state.pending -= 1;
        if state.pending == 0 {
            self.unused.push(at);
        }
    }

    /// For a state with one more operation: the minutes of open time that lie behind it, and the slot it has reached.
    #[inline]
    fn used(&self, state: &PartialSchedule, spot: &Spot) -> (i64, usize) {
        let (mut used, mut reached) = (0, 0);
        for (index, worker) in (0..).zip(&state.workers) {
            let free = if index == spot.worker {
                spot.end
            } else {
                worker.free
            };
            let slot = self.model.slots.partition_point(|end| *end <= free);
            let before = slot.checked_sub(1).map_or(0, |before| self.model.room[before]);
            let within = self
                .model
                .starts
                .get(slot)
                .map_or(0, |start| (free - start).max(0));
            used += i64::from(before) / self.problem.workers as i64 + within;
            if index == spot.worker {
                reached = slot;
            }
        }
        (used, reached)
    }

    /// The penalty for the work that will have no room.
    #[inline]
    fn too_much(&self, used: i64, slot: usize) -> i64 {
        let mut must: i64 = self.need[..slot].iter().map(|need| i64::from(*need)).sum();
        let slots = self.need[slot..]
            .iter()
            .zip(&self.model.room[slot..])
            .zip(&self.prices[slot..]);
        let costs = slots.map(|((need, room), price)| {
            must += i64::from(*need);
            // One worker may be ahead of the slot that another one has reached.
            let left = (i64::from(*room) - used).max(0);
            (must - left * self.filled / WHOLE).max(0) * price
        });
        costs.sum()
    }

    /// Evaluates a state with one more operation: leaves the work it needs in `need` and the changed choices in
    /// `shifts`, and returns its lateness.
    #[inline]
    fn look(&mut self, state: &PartialSchedule, at: u32, spot: &Spot) -> i64 {
        let problem = self.problem;
        let mut need = std::mem::take(&mut self.need);
        need.copy_from_slice(&state.need);
        self.shifts.clear();
        let front = &state.fronts[at as usize];
        let data = &problem.pairs[front.pair as usize];
        let op = &problem.ops[front.next as usize];
        let place = self.model.place_of_ends(front.choice as usize) + (front.next - data.first_op) as usize;
        if let Some(need) = need.get_mut(self.slot_of[place] as usize) {
            *need -= op.minutes as i32;
        }
        let mut late = state.late;
        if op.is_last {
            late += data.weight as i64 * (spot.end + op.wait - data.due).max(0);
            late -= self.model.choices[front.choice as usize].late;
            if spot.end >= problem.calendar.overflow {
                late += OUT * data.weight.max(1) as i64;
            }
        } else {
            let next = PairProgress {
                next: front.next + 1,
                after: spot.end + op.wait,
                ..*front
            };
            late += self.shift(&mut need, &next, at, spot);
        }
        for (index, front) in (0..).zip(&state.fronts) {
            if front.by < spot.end && index != at {
                late += self.shift(&mut need, front, index, spot);
            }
        }
        self.need = need;
        late
    }

    /// If a pair can no longer keep its choice, moves it to the next choice it can keep. Returns the added lateness.
    #[inline]
    fn shift(&mut self, need: &mut [i32], front: &PairProgress, index: u32, spot: &Spot) -> i64 {
        let minutes = self.problem.ops[front.next as usize].minutes;
        let fit = self
            .problem
            .calendar
            .fit(front.after.max(spot.end), minutes, spot.window);
        let last = self.model.of(front.pair as usize).end as u32 - 1;
        let mut choice = front.choice;
        while choice < last && self.goal(front, choice) < fit.start + minutes {
            choice += 1;
        }
        if choice == front.choice {
            return 0;
        }
        self.change_need(need, front, front.choice, -1);
        self.change_need(need, front, choice, 1);
        self.shifts.push((index, choice));
        let late = |choice: u32| self.model.choices[choice as usize].late;
        late(choice) - late(front.choice)
    }

    /// Makes the state of a child, and expands it.
    fn follow(&mut self, child: &Child, holds: &[bool]) {
        let parent = std::mem::take(&mut self.pool[child.parent as usize]);
        let at = self.unused.pop().unwrap_or_else(|| {
            self.pool.push(PartialSchedule::default());
            self.pool.len() as u32 - 1
        });
        let mut state = std::mem::take(&mut self.pool[at as usize]);
        state.late = self.look(&parent, child.front, &child.spot);
        state.hash = child.hash;
        state.last = self.history.len() as u32;
        state.workers.clone_from(&parent.workers);
        state.fronts.clone_from(&parent.fronts);
        state.need.clone_from(&self.need);
        self.history
            .push((parent.last, parent.fronts[child.front as usize].next));
        self.pool[child.parent as usize] = parent;
        self.advance(&mut state, child, holds);
        let (is_done, last) = (state.fronts.is_empty(), state.last);
        self.pool[at as usize] = state;
        if !is_done {
            return self.expand(at, holds);
        }
        self.unused.push(at);
        if self.best.is_none_or(|(cost, _)| child.cost < cost) {
            self.best = Some((child.cost, last));
        }
    }

    /// Updates the worker and the pairs after the operation of a child.
    fn advance(&self, state: &mut PartialSchedule, child: &Child, holds: &[bool]) {
        let (at, spot) = (child.front as usize, &child.spot);
        let front = state.fronts[at];
        let op = &self.problem.ops[front.next as usize];
        state.workers[spot.worker as usize] = WorkerState {
            free: spot.end,
            window: spot.window,
            setup: op.setup,
        };
        state.fronts[at] = PairProgress {
            next: front.next + 1,
            after: spot.end + op.wait,
            limit: (spot.end + op.join).min(FOREVER),
            kept: self.problem.is_kept(front.next, holds),
            ..front
        };
        for (index, choice) in &self.shifts {
            let front = &mut state.fronts[*index as usize];
            *front = self.aimed(PairProgress {
                choice: *choice,
                ..*front
            });
        }
        if op.is_last {
            state.fronts.swap_remove(at);
        } else {
            state.fronts[at] = self.aimed(state.fronts[at]);
        }
    }
}

#[cfg(test)]
mod tests;
