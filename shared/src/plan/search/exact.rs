//! The optimal plan of very little work, proven by branch and bound over all orders, workers and choices of join
//! windows to keep.

use crate::plan::calendar::FOREVER;
use crate::plan::problem::{PlanProblem, Spot, WorkerState};
use crate::plan::schedule::Schedule;
use crate::plan::value::PlanCost;

/// With more operations than this, the search is not tried.
const MOST_OPERATIONS: usize = 9;
/// After this many partial schedules the search is given up.
const MOST_NODES: u32 = 60_000;
/// How often a sequence may be re-timed for its join windows: more than so short a sequence needs.
const MOST_PUSHES: u32 = 100;

type Cost = (u64, u64, u64, u64);

struct Exact<'p> {
    problem: &'p PlanProblem,
    nodes: u32,
    sequence: Vec<(u32, usize)>,
    next: Vec<u32>,
    holds: Vec<bool>,
    spots: Vec<Spot>,
    floors: Vec<i64>,
    workers: Vec<WorkerState>,
    /// The earliest minute at which each pair is done if it were alone.
    alone: Vec<i64>,
    best: Cost,
    found: Option<Schedule>,
}

/// A better schedule than one that costs `known`, if there is one; and whether the best of both is now proven optimal.
pub(in crate::plan) fn improve(problem: &PlanProblem, known: &PlanCost) -> (Option<Schedule>, bool) {
    if problem.ops.len() > MOST_OPERATIONS {
        return (None, false);
    }
    let count = problem.ops.len();
    let mut exact = Exact {
        problem,
        nodes: 0,
        sequence: Vec::with_capacity(count),
        next: problem.pairs.iter().map(|pair| pair.first_op).collect(),
        holds: vec![false; count],
        spots: vec![Spot::default(); count],
        floors: vec![0; count],
        workers: vec![WorkerState::IDLE; problem.workers],
        alone: (0..problem.pairs.len())
            .map(|pair| problem.alone(pair).unwrap_or(0))
            .collect(),
        best: known.cost(),
        found: None,
    };
    exact.extend();
    (exact.found, exact.nodes < MOST_NODES)
}

impl Exact<'_> {
    fn extend(&mut self) {
        self.nodes += 1;
        if self.nodes >= MOST_NODES {
            return;
        }
        let Some(value) = self.evaluate() else {
            return;
        };
        if self.at_least(&value) >= self.best {
            return;
        }
        if self.sequence.len() == self.problem.ops.len() {
            self.best = value.cost();
            self.found = Some(Schedule {
                order: self.sequence.iter().map(|(id, _)| *id).collect(),
                spots: self.spots.clone(),
            });
            return;
        }
        for pair in 0..self.next.len() {
            let id = self.next[pair];
            if id > self.problem.pairs[pair].last_op {
                continue;
            }
            self.next[pair] += 1;
            for worker in 0..self.fresh_workers() {
                self.sequence.push((id, worker));
                self.extend();
                if self.problem.ops[id as usize].can_be_held() {
                    self.holds[id as usize] = true;
                    self.extend();
                    self.holds[id as usize] = false;
                }
                self.sequence.pop();
            }
            self.next[pair] -= 1;
        }
    }

    /// The workers to try: those who have done something, and one of the others, who are all alike.
    fn fresh_workers(&self) -> usize {
        let used = self.sequence.iter().map(|(_, worker)| worker + 1).max();
        (used.unwrap_or(0) + 1).min(self.problem.workers)
    }

    /// The cost of the sequence so far with everything as early as possible; None if it cannot keep its join windows.
    fn evaluate(&mut self) -> Option<PlanCost> {
        self.floors.fill(0);
        for _ in 0..MOST_PUSHES {
            match self.pass() {
                Ok(value) => return Some(value),
                Err((id, floor)) => self.floors[id as usize] = floor,
            }
        }
        None
    }

    /// Times the sequence once, up to an operation that has to start later.
    fn pass(&mut self) -> Result<PlanCost, (u32, i64)> {
        let problem = self.problem;
        self.workers.fill(WorkerState::IDLE);
        let mut value = PlanCost::default();
        for (id, index) in &self.sequence {
            let op = &problem.ops[*id as usize];
            let pair = &problem.pairs[op.pair as usize];
            let (mut after, mut limit, mut kept) = (pair.ready, pair.join_by, false);
            if !op.is_first {
                let (before, spot) = (&problem.ops[*id as usize - 1], self.spots[*id as usize - 1]);
                after = spot.end + before.wait;
                limit = spot.end + before.join;
                kept = problem.is_kept(id - 1, &self.holds);
                // A join window that is not to be kept is missed, if necessary on purpose: a longer operation can let
                // an operation that is joined to it start earlier.
                if !kept && before.join < FOREVER {
                    after = after.max(limit + 1);
                }
            }
            after = after.max(self.floors[*id as usize]);
            let worker = &mut self.workers[*index];
            let (spot, _) = problem.place_on(*id, worker, (after, limit), kept, &self.holds);
            if kept && spot.start > limit {
                let (before, at) = (&problem.ops[*id as usize - 1], self.spots[*id as usize - 1]);
                // If it is not the first operation of its pair, its start is missed from the beginning.
                let limit = if before.is_first { pair.join_by } else { i64::MAX };
                return Err((
                    id - 1,
                    problem.start_for(id - 1, at, spot.start - before.join, limit),
                ));
            }
            *worker = WorkerState {
                free: spot.end,
                window: spot.window,
                setup: op.setup,
            };
            self.spots[*id as usize] = Spot {
                worker: *index as u32,
                ..spot
            };
            value = value.with(problem, op, spot.end);
        }
        Ok(value)
    }

    /// A lower bound of the cost of any schedule that begins with the sequence: the rest of each pair as if it were
    /// alone.
    fn at_least(&self, value: &PlanCost) -> Cost {
        let (out, first, mut late, mut sum) = value.cost();
        for (pair, next) in self.problem.pairs.iter().zip(&self.next) {
            if *next > pair.last_op {
                continue;
            }
            let ids = *next as usize..=pair.last_op as usize;
            let rest: i64 = self.problem.ops[ids].iter().map(|op| op.minutes + op.wait).sum();
            let reached = if *next == pair.first_op {
                pair.ready
            } else {
                self.spots[*next as usize - 1].end + self.problem.ops[*next as usize - 1].wait
            };
            let alone = self.alone[self.problem.ops[*next as usize].pair as usize];
            if reached + rest >= self.problem.calendar.overflow {
                continue;
            }
            let done = alone.max(reached + rest);
            late += pair.weight * (done - pair.due).max(0) as u64;
            sum += done as u64;
        }
        (out, first, late, sum)
    }
}
