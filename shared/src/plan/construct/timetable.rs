//! Timing of an order: when its operations take place, and what that costs.
//!
//! An order is a list of all operations, those of a pair in their order. They are placed one after another, each as
//! early as possible on the worker where it ends first. If a join window that must be kept is missed, the operation
//! before it is moved later and everything between is placed again. On one worker this gives the schedule of the order
//! in which everything is as early as possible.
//!
//! A changed order is evaluated from the first place that changed until it agrees again with the current schedule;
//! nothing is allocated.

use crate::plan::problem::{PlanProblem, Spot, WorkerState};
use crate::plan::schedule::Schedule;
use crate::plan::value::PlanCost;

/// How often a changed order may be re-timed for its join windows before it is given up.
const MOST_PUSHES: usize = 12;

/// The current schedule of an order, and a trial order.
#[derive(Debug, Clone)]
pub(in crate::plan) struct Timetable<'a> {
    pub(in crate::plan) problem: &'a PlanProblem,
    /// The order to be tried. While nothing is tried it equals the current one.
    pub(in crate::plan) trial: Vec<u32>,
    /// For each operation, whether the soft join window behind it is kept in the trial.
    pub(in crate::plan) holds: Vec<bool>,
    order: Vec<u32>,
    position: Vec<u32>,
    standing: Trace,
    tried: Trace,
    /// The number of the last trial in which each operation was placed.
    stamp: Vec<u32>,
    floor: Vec<(u32, i64)>,
    /// How many pairs differ from the current schedule, after each place.
    differing: Vec<u32>,
    trials: u32,
    /// The range of places that were evaluated in the trial.
    from: usize,
    until: usize,
}

/// Where every operation lies, by operation, and the intermediate states, by place in the order.
#[derive(Debug, Clone)]
struct Trace {
    spots: Vec<Spot>,
    /// The state of all workers before each place.
    workers: Vec<WorkerState>,
    /// The cost of everything before each place.
    values: Vec<PlanCost>,
}

/// The outcome of placing one operation.
enum StepOutcome {
    Placed,
    /// This operation has to start later.
    Push(u32, i64),
}

impl<'a> Timetable<'a> {
    /// The schedule of an order, if its join windows can be kept. Soft ones that `holds` does not mark need not be.
    pub(in crate::plan) fn new(problem: &'a PlanProblem, order: &[u32], holds: &[bool]) -> Option<Self> {
        let count = problem.ops.len();
        let mut holds = holds.to_vec();
        holds.resize(count, false);
        let trace = Trace {
            spots: vec![Spot::default(); count],
            workers: vec![WorkerState::IDLE; (count + 1) * problem.workers],
            values: vec![PlanCost::default(); count + 1],
        };
        let mut timetable = Self {
            problem,
            trial: order.to_vec(),
            holds,
            position: vec![0; count],
            order: order.to_vec(),
            standing: trace.clone(),
            tried: trace,
            stamp: vec![0; count],
            floor: vec![(0, 0); count],
            differing: vec![0; count + 1],
            trials: 0,
            from: 0,
            until: 0,
        };
        timetable.evaluate(0, count.saturating_sub(1), None)?;
        timetable.accept();
        Some(timetable)
    }

    /// The cost of the current order.
    pub(in crate::plan) fn value(&self) -> PlanCost {
        self.standing.values.last().copied().unwrap_or_default()
    }

    /// The current order.
    pub(in crate::plan) fn order(&self) -> &[u32] {
        &self.order
    }

    /// The place of an operation in the current order.
    pub(in crate::plan) fn position(&self, id: u32) -> usize {
        self.position[id as usize] as usize
    }

    /// The current schedule.
    pub(in crate::plan) fn schedule(&self) -> Schedule {
        Schedule {
            order: self.order.clone(),
            spots: self.standing.spots.clone(),
        }
    }

    /// Copies the current schedule into an existing one of the same problem.
    pub(in crate::plan) fn copy_schedule(&self, schedule: &mut Schedule) {
        schedule.order.copy_from_slice(&self.order);
        schedule.spots.copy_from_slice(&self.standing.spots);
    }

    /// The cost of the trial, which differs from the current order only from `first` to `last`. None if it cannot keep
    /// its join windows, or costs more than `limit`.
    pub(in crate::plan) fn evaluate(
        &mut self,
        first: usize,
        last: usize,
        limit: Option<&PlanCost>,
    ) -> Option<PlanCost> {
        self.trials = self.trials.wrapping_add(1);
        self.begin(first);
        let count = self.trial.len();
        // An order that is not a change of another one must find room for all its join windows from scratch.
        let most_pushes = if limit.is_some() {
            MOST_PUSHES
        } else {
            MOST_PUSHES * (count + 50)
        };
        let mut pushes = 0;
        let mut place = first;
        while place < count {
            match self.step(place) {
                StepOutcome::Placed => {}
                StepOutcome::Push(id, floor) => {
                    pushes += 1;
                    if pushes > most_pushes {
                        return None;
                    }
                    self.floor[id as usize] = (self.trials, floor);
                    place = self.place_of(id, place);
                    if place < self.from {
                        self.begin(place);
                    }
                    continue;
                }
            }
            place += 1;
            let value = self.tried.values[place];
            if limit.is_some_and(|limit| value > *limit) {
                return None;
            }
            if place > last && place < count && self.agrees(place) {
                self.until = place;
                let rest = self.value().less(&self.standing.values[place]);
                let total = value.plus(&rest);
                return limit.is_none_or(|limit| total <= *limit).then_some(total);
            }
        }
        self.until = count;
        Some(self.tried.values[count])
    }

    /// Makes the trial, which was just evaluated, the current order.
    pub(in crate::plan) fn accept(&mut self) {
        let (from, until, workers) = (self.from, self.until, self.problem.workers);
        for place in from..until {
            let id = self.trial[place] as usize;
            self.standing.spots[id] = self.tried.spots[id];
            self.position[id] = place as u32;
        }
        self.order[from..until].copy_from_slice(&self.trial[from..until]);
        let (first, end) = ((from + 1) * workers, (until + 1) * workers);
        self.standing.workers[first..end].copy_from_slice(&self.tried.workers[first..end]);
        let before = self.standing.values[until];
        self.standing.values[from + 1..=until].copy_from_slice(&self.tried.values[from + 1..=until]);
        let now = self.standing.values[until];
        if now != before {
            for value in &mut self.standing.values[until + 1..] {
                *value = value.less(&before).plus(&now);
            }
        }
    }

    /// Puts the trial between two places back to the current order.
    pub(in crate::plan) fn reject(&mut self, first: usize, last: usize) {
        self.trial[first..=last].copy_from_slice(&self.order[first..=last]);
    }

    fn begin(&mut self, place: usize) {
        self.from = place;
        let workers = self.problem.workers;
        let states = place * workers..(place + 1) * workers;
        self.tried.workers[states.clone()].copy_from_slice(&self.standing.workers[states]);
        self.tried.values[place] = self.standing.values[place];
        self.differing[place] = 0;
    }

    /// The end of an operation in this trial so far.
    #[inline]
    fn end(&self, id: u32) -> (i64, bool) {
        let id = id as usize;
        if self.stamp[id] == self.trials {
            let end = self.tried.spots[id].end;
            (end, end != self.standing.spots[id].end)
        } else {
            (self.standing.spots[id].end, false)
        }
    }

    fn step(&mut self, place: usize) -> StepOutcome {
        let problem = self.problem;
        let id = self.trial[place];
        let op = &problem.ops[id as usize];
        let pair = &problem.pairs[op.pair as usize];
        let (mut after, mut limit) = (pair.ready, pair.join_by);
        let (mut kept, mut differed) = (false, false);
        if !op.is_first {
            let before = &problem.ops[id as usize - 1];
            let (end, differs) = self.end(id - 1);
            after = end + before.wait;
            limit = end + before.join;
            kept = problem.is_kept(id - 1, &self.holds);
            differed = differs;
        }
        let (trial, floor) = self.floor[id as usize];
        if trial == self.trials {
            after = after.max(floor);
        }
        let count = problem.workers;
        let states = place * count..(place + 1) * count;
        let spot = problem.place(
            id,
            &self.tried.workers[states.clone()],
            (after, limit),
            kept,
            &self.holds,
        );
        if kept && spot.start > limit {
            return StepOutcome::Push(id - 1, self.later(id - 1, spot.start));
        }
        self.tried.workers.copy_within(states.clone(), states.end);
        self.tried.workers[states.end + spot.worker as usize] = WorkerState {
            free: spot.end,
            window: spot.window,
            setup: op.setup,
        };
        self.tried.values[place + 1] = self.tried.values[place].with(problem, op, spot.end);
        self.tried.spots[id as usize] = spot;
        self.stamp[id as usize] = self.trials;
        let differs = !op.is_last && spot.end != self.standing.spots[id as usize].end;
        self.differing[place + 1] = self.differing[place] + u32::from(differs) - u32::from(differed);
        StepOutcome::Placed
    }

    /// When an operation has to start so that the next one keeps the join window at `start`.
    fn later(&self, id: u32, start: i64) -> i64 {
        let op = &self.problem.ops[id as usize];
        let spot = if self.stamp[id as usize] == self.trials {
            self.tried.spots[id as usize]
        } else {
            self.standing.spots[id as usize]
        };
        let limit = match id.checked_sub(1).filter(|_| !op.is_first) {
            None => self.problem.pairs[op.pair as usize].join_by,
            Some(before) if self.problem.is_kept(before, &self.holds) => i64::MAX,
            Some(before) => self.end(before).0 + self.problem.ops[before as usize].join,
        };
        self.problem.start_for(id, spot, start - op.join, limit)
    }

    /// The place in the trial of an operation that comes before `place`.
    fn place_of(&self, id: u32, place: usize) -> usize {
        self.trial[..place]
            .iter()
            .rposition(|other| *other == id)
            .unwrap_or(0)
    }

    /// Whether the trial equals the current schedule from `place` on: no pair and no worker differs.
    #[inline]
    fn agrees(&self, place: usize) -> bool {
        let count = self.problem.workers;
        let states = place * count..(place + 1) * count;
        self.differing[place] == 0
            && self.tried.workers[states.clone()]
                .iter()
                .zip(&self.standing.workers[states])
                .all(|(tried, standing)| tried.free == standing.free && tried.setup == standing.setup)
    }
}
