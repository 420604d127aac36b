//! The operations that may be done next in a partial schedule.
//!
//! Each pair offers its next operation at the earliest time it could start. Candidates are the operations that start
//! before any of them could end, without those that would make another pair miss a join window that must be kept. Of
//! the candidates, the few that must start soonest are offered.

use super::PartialSchedule;
use crate::plan::problem::{PlanProblem, Spot, WorkerState};

/// How many candidates are offered.
const OFFERED: usize = 3;
/// How many more are offered that need no set-up.
const ALIKE: usize = 2;

#[derive(Debug, Clone, Copy)]
struct Offer {
    /// The latest start with which its pair keeps its choice.
    by: i64,
    /// The index of its pair among the fronts.
    front: u32,
    sets_up: bool,
    spot: Spot,
}

/// An operation that must start within an interval because of a join window that must be kept.
#[derive(Debug, Clone, Copy)]
struct Strict {
    id: u32,
    front: u32,
    after: i64,
    limit: i64,
    kept: bool,
}

/// The offers of a state, with reused memory to find them.
#[derive(Debug, Default)]
pub(super) struct Offers {
    offers: Vec<Offer>,
    strict: Vec<Strict>,
    queue: Vec<Strict>,
    workers: Vec<WorkerState>,
}

impl Offers {
    /// The offered operations: the index of each pair among the fronts, and where the operation would lie.
    pub(super) fn iter(&self) -> impl Iterator<Item = (u32, Spot)> + '_ {
        self.offers.iter().map(|offer| (offer.front, offer.spot))
    }

    /// Finds the offers of a state.
    pub(super) fn of(&mut self, problem: &PlanProblem, state: &PartialSchedule, holds: &[bool]) {
        self.collect(problem, state, holds);
        let (mut offered, mut alike) = (0, 0);
        let most_alike = if problem.has_setups { ALIKE } else { 0 };
        for next in 0..self.offers.len() {
            if offered >= OFFERED && alike >= most_alike {
                break;
            }
            // Of the others, those that must start soonest.
            let others = next..self.offers.len();
            let soonest = others.min_by_key(|at| (self.offers[*at].by, self.offers[*at].front));
            self.offers.swap(next, soonest.unwrap_or(next));
            let offer = self.offers[next];
            let is_more = offered >= OFFERED;
            if is_more && offer.sets_up || !self.is_harmless(problem, state, &offer, holds) {
                continue;
            }
            alike += usize::from(is_more);
            self.offers[offered] = offer;
            offered += 1;
        }
        self.offers.truncate(offered);
    }

    /// Collects the candidates and the strict operations.
    fn collect(&mut self, problem: &PlanProblem, state: &PartialSchedule, holds: &[bool]) {
        self.offers.clear();
        self.strict.clear();
        let mut soonest = i64::MAX;
        for (index, front) in (0..).zip(&state.fronts) {
            let is_strict = front.kept || problem.pairs[front.pair as usize].pinned;
            if front.after > soonest && !is_strict {
                continue;
            }
            let times = (front.after, front.limit);
            let spot = problem.place(front.next, &state.workers, times, front.kept, holds);
            soonest = soonest.min(spot.end);
            // A pair that is to be done first is never put off.
            if is_strict {
                self.strict.push(Strict {
                    id: front.next,
                    front: index,
                    after: front.after,
                    limit: if front.kept { front.limit } else { spot.start },
                    kept: front.kept,
                });
            }
            let setup = state.workers[spot.worker as usize].setup;
            self.offers.push(Offer {
                by: front.by,
                front: index,
                sets_up: problem.ops[front.next as usize].setting_up(setup) > 0,
                spot,
            });
        }
        self.offers.retain(|offer| {
            let front = &state.fronts[offer.front as usize];
            let is_missed = front.kept && offer.spot.start > front.limit;
            !is_missed && (offer.spot.start < soonest || offer.spot.end == soonest)
        });
    }

    /// Whether all strict operations can still be done in time after this one, either in the order of their limits or
    /// in the order in which they stand.
    fn is_harmless(
        &mut self,
        problem: &PlanProblem,
        state: &PartialSchedule,
        offer: &Offer,
        holds: &[bool],
    ) -> bool {
        let id = state.fronts[offer.front as usize].next;
        let others = self.strict.iter().any(|other| other.front != offer.front);
        let is_free = !others && !problem.is_kept(id, holds);
        is_free
            || self.goes(problem, state, offer, holds, |strict| strict.limit)
            || self.goes(problem, state, offer, holds, |strict| strict.after)
    }

    fn goes(
        &mut self,
        problem: &PlanProblem,
        state: &PartialSchedule,
        offer: &Offer,
        holds: &[bool],
        key: impl Fn(&Strict) -> i64,
    ) -> bool {
        let Self {
            queue,
            workers,
            strict,
            ..
        } = self;
        workers.clone_from(&state.workers);
        queue.clear();
        queue.extend(strict.iter().filter(|other| other.front != offer.front));
        let (mut id, mut spot) = (state.fronts[offer.front as usize].next, offer.spot);
        loop {
            let op = &problem.ops[id as usize];
            workers[spot.worker as usize] = WorkerState {
                free: spot.end,
                window: spot.window,
                setup: op.setup,
            };
            if problem.is_kept(id, holds) {
                queue.push(Strict {
                    id: id + 1,
                    front: offer.front,
                    after: spot.end + op.wait,
                    limit: spot.end + op.join,
                    kept: true,
                });
            }
            let next = (0..queue.len()).min_by_key(|at| key(&queue[*at]));
            let Some(next) = next.map(|next| queue.swap_remove(next)) else {
                return true;
            };
            id = next.id;
            spot = problem.place(id, workers, (next.after, next.limit), next.kept, holds);
            if spot.start > next.limit {
                return false;
            }
        }
    }
}
