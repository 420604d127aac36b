//! The first orders, by a dispatching rule: operation by operation, the most urgent one.
//!
//! At each step every pair offers its next operation at the earliest time it could start. Candidates are the operations
//! that start before any of them could end, without those that would make another pair miss a join window that must be
//! kept. The most urgent candidate is taken: urgency is weight over remaining work, reduced by slack (apparent
//! tardiness cost, with a fraction in place of the exponential so that it is the same number on every machine).

use crate::plan::answer::Plan;
use crate::plan::problem::{PlanProblem, Spot, WorkerState};

/// The slack, in average operations, at which a pair becomes much less urgent: each value gives another order.
const PATIENCE: [f64; 5] = [0.5, 2.0, 6.0, 20.0, 60.0];

/// A few orders to begin with. The last one does pair after pair, which never breaks a join window.
pub(in crate::plan) fn orders(problem: &PlanProblem) -> impl Iterator<Item = Vec<u32>> + '_ {
    PATIENCE
        .iter()
        .map(|patience| Dispatch::new(problem, *patience).order())
        .chain(std::iter::once_with(|| (0..problem.ops.len() as u32).collect()))
}

/// The order of a known plan. Pairs to be done first that are not in it come before it, others behind it.
pub(in crate::plan) fn as_planned(problem: &PlanProblem, plan: &Plan) -> Vec<u32> {
    let mut starts = vec![i64::MAX; problem.ops.len()];
    for block in &plan.blocks {
        let pair = problem.pairs.binary_search_by_key(&block.pair, |pair| pair.index);
        let Ok(pair) = pair.map(|pair| problem.pairs[pair]) else {
            continue;
        };
        let id = pair.first_op as usize + block.operation;
        if id <= pair.last_op as usize {
            starts[id] = block.start;
        }
    }
    // Once an operation is not in the plan, no later operation of its pair is either.
    for id in (1..starts.len()).filter(|id| !problem.ops[*id].is_first) {
        starts[id] = starts[id].max(starts[id - 1]);
    }
    let mut order: Vec<u32> = (0..problem.ops.len() as u32).collect();
    let pinned = |id: u32| problem.pairs[problem.ops[id as usize].pair as usize].pinned;
    order.sort_by_key(|id| (!pinned(*id), starts[*id as usize], *id));
    order
}

/// How far the work on one pair has come.
#[derive(Debug, Clone, Copy)]
struct DispatchFront {
    next: u32,
    after: i64,
    limit: i64,
    kept: bool,
    /// The attended minutes that are left, and the waits.
    work: i64,
    waits: i64,
}

struct Dispatch<'a> {
    problem: &'a PlanProblem,
    /// The slack at which the urgency of a pair falls to a quarter.
    patience: f64,
    workers: Vec<WorkerState>,
    fronts: Vec<Option<DispatchFront>>,
}

impl<'a> Dispatch<'a> {
    fn new(problem: &'a PlanProblem, patience: f64) -> Self {
        let total: i64 = problem.ops.iter().map(|op| op.minutes).sum();
        let average = total.max(1) as f64 / problem.ops.len().max(1) as f64;
        let fronts = problem.pairs.iter().map(|pair| {
            let chain = &problem.ops[pair.first_op as usize..=pair.last_op as usize];
            Some(DispatchFront {
                next: pair.first_op,
                after: pair.ready,
                limit: pair.join_by,
                kept: false,
                work: chain.iter().map(|op| op.minutes).sum(),
                waits: chain.iter().map(|op| op.wait).sum(),
            })
        });
        Self {
            problem,
            patience: patience * average,
            workers: vec![WorkerState::IDLE; problem.workers],
            fronts: fronts.collect(),
        }
    }

    fn order(mut self) -> Vec<u32> {
        let mut order = Vec::with_capacity(self.problem.ops.len());
        let mut offers: Vec<(usize, DispatchFront, Spot)> = Vec::with_capacity(self.fronts.len());
        loop {
            offers.clear();
            offers.extend(self.offers());
            let Some((pair, front, spot)) = self.choose(&offers) else {
                return order;
            };
            order.push(front.next);
            self.take(pair, front, spot);
        }
    }

    fn offers(&self) -> impl Iterator<Item = (usize, DispatchFront, Spot)> + '_ {
        self.fronts.iter().enumerate().filter_map(|(pair, front)| {
            let front = (*front)?;
            let times = (front.after, front.limit);
            let spot = self
                .problem
                .place(front.next, &self.workers, times, front.kept, &[]);
            Some((pair, front, spot))
        })
    }

    fn choose(&self, offers: &[(usize, DispatchFront, Spot)]) -> Option<(usize, DispatchFront, Spot)> {
        let soonest = offers.iter().map(|(_, _, spot)| spot.end).min()?;
        let in_question = offers
            .iter()
            .filter(|(_, _, spot)| spot.start < soonest || spot.end == soonest);
        let joined: Vec<_> = offers.iter().filter(|(_, front, _)| front.kept).collect();
        let harmless = in_question.filter(|offer| self.is_harmless(offer, &joined));
        // Of two equally urgent pairs, the one that comes first in the instance.
        let urgent = harmless.rev().max_by(|one, other| {
            let (one, other) = (self.urgency(one), self.urgency(other));
            one.total_cmp(&other)
        });
        // If all candidates break a join window, the one whose join window closes first.
        urgent
            .or_else(|| joined.into_iter().min_by_key(|(_, front, _)| front.limit))
            .copied()
    }

    /// Whether every other pair can still keep its open join window after this operation.
    fn is_harmless(
        &self,
        offer: &(usize, DispatchFront, Spot),
        joined: &[&(usize, DispatchFront, Spot)],
    ) -> bool {
        let (pair, _, spot) = offer;
        let others = self.workers.iter().enumerate();
        let others = others.filter(|(index, _)| *index != spot.worker as usize);
        let free = others.map(|(_, worker)| worker.free).min();
        let free = free.map_or(spot.end, |free| free.min(spot.end));
        joined
            .iter()
            .filter(|(other, ..)| other != pair)
            .all(|(_, front, _)| {
                let minutes = self.problem.ops[front.next as usize].minutes;
                let fit = self.problem.calendar.fit(front.after.max(free), minutes, 0);
                fit.start <= front.limit
            })
    }

    fn urgency(&self, (pair, front, spot): &(usize, DispatchFront, Spot)) -> f64 {
        let data = &self.problem.pairs[*pair];
        if data.pinned {
            return f64::MAX;
        }
        let slack = data.due - spot.start - front.work - front.waits;
        let patience = 1.0 + slack.max(0) as f64 / self.patience;
        // A pair without weight still goes before no pair at all.
        let weight = data.weight as f64 + 0.001;
        // Set-up counts as work of this pair.
        let setting_up = spot.end - spot.start - self.problem.ops[front.next as usize].minutes;
        weight / ((front.work + setting_up).max(1) as f64 * patience * patience)
    }

    fn take(&mut self, pair: usize, front: DispatchFront, spot: Spot) {
        let op = &self.problem.ops[front.next as usize];
        self.workers[spot.worker as usize] = WorkerState {
            free: spot.end,
            window: spot.window,
            setup: op.setup,
        };
        self.fronts[pair] = (!op.is_last).then_some(DispatchFront {
            next: front.next + 1,
            after: spot.end + op.wait,
            limit: spot.end + op.join,
            kept: op.hard,
            work: front.work - op.minutes,
            waits: front.waits - op.wait,
        });
    }
}
