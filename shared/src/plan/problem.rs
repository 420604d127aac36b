//! The instance in the form that the searches use: numbers only, the operations of all pairs in one list, time counted
//! from `now`.

use super::answer::{LeftOut, Reason};
use super::calendar::{Calendar, FOREVER};
use super::instance::{Instance, PlanPair};
use super::kept_place::KeptPlace;

/// The set-up number of an operation without a set-up.
const NO_SETUP: u32 = 0;
/// The set-up number of a worker who has done nothing yet.
pub(super) const NOTHING_YET: u32 = u32::MAX;

/// An operation. The operations of a pair have consecutive numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Op {
    pub(super) pair: u32,
    pub(super) minutes: i64,
    pub(super) wait: i64,
    pub(super) setup: u32,
    pub(super) setup_minutes: i64,
    /// The join window: how long after this operation's end the next one may start; [`FOREVER`] without one.
    pub(super) join: i64,
    /// Whether the join window must be kept.
    pub(super) hard: bool,
    /// The extra minutes of this operation if the join window before it was missed.
    pub(super) rejoin: i64,
    pub(super) is_first: bool,
    pub(super) is_last: bool,
    /// The milestone: the latest end with which the pair can be in time if it were alone.
    pub(super) milestone: i64,
    /// The place that it should keep.
    pub(super) place: KeptPlace,
}

/// A pair.
#[derive(Debug, Clone, Copy)]
pub(super) struct PairData {
    /// Its index in the instance.
    pub(super) index: usize,
    pub(super) first_op: u32,
    pub(super) last_op: u32,
    pub(super) ready: i64,
    /// The latest start of its first operation without extra minutes.
    pub(super) join_by: i64,
    /// The due time; [`FOREVER`] without one.
    pub(super) due: i64,
    pub(super) weight: u64,
    pub(super) pinned: bool,
}

/// The scheduling problem: the pairs that can be planned.
#[derive(Debug, Clone)]
pub(super) struct PlanProblem {
    pub(super) ops: Vec<Op>,
    pub(super) pairs: Vec<PairData>,
    pub(super) calendar: Calendar,
    pub(super) workers: usize,
    /// Whether any operation has set-up minutes.
    pub(super) has_setups: bool,
}

/// The state of a worker between two operations.
#[derive(Debug, Clone, Copy)]
pub(super) struct WorkerState {
    pub(super) free: i64,
    pub(super) window: u32,
    pub(super) setup: u32,
}

impl WorkerState {
    pub(super) const IDLE: Self = Self {
        free: 0,
        window: 0,
        setup: NOTHING_YET,
    };
}

/// Where an operation is placed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Spot {
    pub(super) start: i64,
    pub(super) end: i64,
    pub(super) window: u32,
    pub(super) worker: u32,
}

impl Op {
    /// Whether the join window behind it is soft and can be kept.
    pub(super) fn can_be_held(&self) -> bool {
        !self.hard && self.wait <= self.join && self.join < FOREVER
    }

    /// The minutes of set-up after an operation whose set-up is `previous`.
    #[inline]
    pub(super) fn setting_up(&self, previous: u32) -> i64 {
        if self.setup == NO_SETUP || previous == NOTHING_YET || previous == self.setup {
            0
        } else {
            self.setup_minutes
        }
    }
}

impl PlanProblem {
    /// Splits an instance into the pairs that can be planned and those that cannot.
    pub(super) fn new(instance: &Instance) -> (Self, Vec<LeftOut>) {
        let now = instance.now;
        let windows = instance
            .windows
            .as_ref()
            .map(|windows| windows.iter().map(|[start, end]| (start - now, end - now)));
        let mut problem = Self {
            ops: Vec::new(),
            pairs: Vec::new(),
            calendar: Calendar::new(windows),
            workers: instance.workers as usize,
            has_setups: false,
        };
        let mut left_out = Vec::new();
        let mut setups: Vec<&str> = Vec::new();
        for (index, pair) in instance.pairs.iter().enumerate() {
            problem.add(index, pair, now, &mut setups);
            if let Err((operation, reason)) = problem.alone(problem.pairs.len() - 1) {
                problem.drop_last();
                left_out.push(LeftOut {
                    tag: pair.tag.clone(),
                    operation,
                    reason,
                    pair: index,
                });
            }
        }
        problem.has_setups = problem
            .ops
            .iter()
            .any(|op| op.setup != NO_SETUP && op.setup_minutes > 0);
        problem.set_milestones();
        (problem, left_out)
    }

    fn add<'a>(&mut self, index: usize, pair: &'a PlanPair, now: i64, setups: &mut Vec<&'a str>) {
        let first_op = self.ops.len() as u32;
        let mut rejoin = i64::from(pair.rejoin_minutes);
        let last = pair.operations.len().saturating_sub(1);
        for (place, operation) in pair.operations.iter().enumerate() {
            let setup = operation
                .setup
                .as_deref()
                .map_or(NO_SETUP, |name| number(setups, name));
            let is_last = place == last;
            let join = operation.join_within.filter(|_| !is_last);
            self.ops.push(Op {
                pair: self.pairs.len() as u32,
                minutes: i64::from(operation.minutes),
                wait: i64::from(operation.wait_min),
                setup,
                setup_minutes: i64::from(operation.setup_minutes),
                join: join.map_or(FOREVER, i64::from),
                hard: join.is_some() && operation.rejoin_minutes.is_none(),
                rejoin,
                is_first: place == 0,
                is_last,
                milestone: FOREVER,
                place: KeptPlace::default(),
            });
            rejoin = i64::from(operation.rejoin_minutes.unwrap_or(0));
        }
        self.pairs.push(PairData {
            index,
            first_op,
            last_op: first_op + last as u32,
            ready: pair.ready.map_or(0, |ready| (ready - now).max(0)),
            join_by: pair.join_by.map_or(i64::MAX, |by| by - now),
            due: pair.due.map_or(FOREVER, |due| due - now),
            weight: u64::from(pair.weight),
            pinned: pair.first,
        });
    }

    /// Whether any pair has more than one operation. Otherwise its priority is its place in the order.
    pub(super) fn has_chains(&self) -> bool {
        self.ops.len() > self.pairs.len()
    }

    /// The same problem without the pairs marked in `left`, and the new number of each operation.
    pub(super) fn without(&self, left: &[bool]) -> (Self, Vec<Option<u32>>) {
        let mut other = Self {
            ops: Vec::new(),
            pairs: Vec::new(),
            ..self.clone()
        };
        let mut numbers = vec![None; self.ops.len()];
        for (pair, _) in self.pairs.iter().zip(left).filter(|(_, left)| !**left) {
            let first_op = other.ops.len() as u32;
            for id in pair.first_op..=pair.last_op {
                numbers[id as usize] = Some(other.ops.len() as u32);
                other.ops.push(Op {
                    pair: other.pairs.len() as u32,
                    ..self.ops[id as usize]
                });
            }
            other.pairs.push(PairData {
                first_op,
                last_op: first_op + pair.last_op - pair.first_op,
                ..*pair
            });
        }
        (other, numbers)
    }

    /// Calculates the milestones backwards from the due times.
    fn set_milestones(&mut self) {
        for pair in &self.pairs {
            let mut next: Option<Op> = None;
            for id in (pair.first_op..=pair.last_op).rev() {
                let op = &mut self.ops[id as usize];
                let by = next.map_or(pair.due, |next| next.milestone - next.minutes) - op.wait;
                op.milestone = if pair.due < FOREVER {
                    self.calendar.latest(by, op.minutes)
                } else {
                    FOREVER
                };
                next = Some(*op);
            }
        }
    }

    fn drop_last(&mut self) {
        if let Some(pair) = self.pairs.pop() {
            self.ops.truncate(pair.first_op as usize);
        }
    }

    /// The earliest minute at which the pair could be done if it were alone, without any set-up.
    ///
    /// # Errors
    /// The index of the operation that fits nowhere, and why.
    pub(super) fn alone(&self, pair: usize) -> Result<i64, (usize, Reason)> {
        let data = &self.pairs[pair];
        let longest = self.calendar.longest();
        let mut after = data.ready;
        let ids = || (data.first_op..=data.last_op).zip(0..);
        for (id, place) in ids() {
            let op = &self.ops[id as usize];
            if op.minutes > longest {
                return Err((place, Reason::TooLong));
            }
            if op.hard && op.wait > op.join {
                return Err((place + 1, Reason::JoinWindow));
            }
        }
        for (id, place) in ids() {
            let op = &self.ops[id as usize];
            // A longer operation may also suit the next one better.
            let fit = if op.setup_minutes == 0 && op.rejoin == 0 {
                self.settle(id, after, op.minutes, 0, &[])
            } else {
                self.calendar.fit(after, op.minutes, 0)
            };
            if fit.start >= self.calendar.overflow {
                return Err(self.why_not(id, after, place));
            }
            after = fit.start + op.minutes + op.wait;
        }
        Ok(after)
    }

    /// Checks the operation without its join windows, where it may fit.
    fn why_not(&self, id: u32, after: i64, place: usize) -> (usize, Reason) {
        let op = &self.ops[id as usize];
        let free = self.calendar.fit(after, op.minutes, 0);
        if free.start >= self.calendar.overflow {
            return (place, Reason::Horizon);
        }
        // The join window that fails is the first of the chain of hard ones that the calendar alone breaks everywhere.
        (place + 1, Reason::JoinWindow)
    }
}

/// The number of a set-up, from 1.
fn number<'a>(setups: &mut Vec<&'a str>, name: &'a str) -> u32 {
    let place = setups.iter().position(|known| *known == name);
    let place = place.unwrap_or_else(|| {
        setups.push(name);
        setups.len() - 1
    });
    place as u32 + 1
}
