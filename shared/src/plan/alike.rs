//! Exchanges equal work between pairs: of two pairs with the same work and weight, the one that is due earlier gets the
//! earlier places.
//!
//! This never raises the cost: of two jobs with equal weight and work that are done at two given times, the weighted
//! tardiness is least when the job that is due earlier is done earlier (Emmons 1969, theorem 1, for one operation;
//! exchanging all places of two equal chains changes nothing else).

use super::problem::{Op, PairData, PlanProblem};
use super::schedule::Schedule;

impl Schedule {
    /// Deals the places of each group of equal pairs to the pairs in order of their due times. Pairs that are not
    /// planned keep their places.
    pub(super) fn sooner_first(&mut self, problem: &PlanProblem) {
        let mut number: Vec<u32> = (0..self.spots.len() as u32).collect();
        let mut seen = vec![false; problem.pairs.len()];
        for at in 0..problem.pairs.len() {
            if seen[at] {
                continue;
            }
            let group: Vec<usize> = (at..problem.pairs.len())
                .filter(|other| alike(problem, &problem.pairs[at], &problem.pairs[*other]))
                .collect();
            group.iter().for_each(|one| seen[*one] = true);
            self.deal(problem, &group, &mut number);
        }
        let spots = self.spots.clone();
        for (old, new) in number.iter().enumerate() {
            self.spots[*new as usize] = spots[old];
        }
        for id in &mut self.order {
            *id = number[*id as usize];
        }
    }

    /// Writes into `number`, for each operation of a group, the operation whose place it takes.
    fn deal(&self, problem: &PlanProblem, group: &[usize], number: &mut [u32]) {
        let data = |at: &usize| &problem.pairs[*at];
        let mut promised = group.to_vec();
        promised.sort_by_key(|at| (data(at).due, data(at).index));
        let mut done = group.to_vec();
        done.sort_by_key(|at| (self.spots[data(at).last_op as usize].end, data(at).index));
        for (place, taker) in done.iter().zip(&promised) {
            for (old, new) in (data(place).first_op..=data(place).last_op).zip(data(taker).first_op..) {
                number[old as usize] = new;
            }
        }
    }
}

/// Whether two pairs differ in nothing but their due times.
fn alike(problem: &PlanProblem, one: &PairData, other: &PairData) -> bool {
    let chain = |pair: &PairData| &problem.ops[pair.first_op as usize..=pair.last_op as usize];
    let same = |one: &Op, other: &Op| {
        let but = |op: &Op| Op {
            pair: 0,
            milestone: 0,
            ..*op
        };
        but(one) == but(other)
    };
    (one.ready, one.join_by, one.weight, one.pinned)
        == (other.ready, other.join_by, other.weight, other.pinned)
        && chain(one).len() == chain(other).len()
        && chain(one)
            .iter()
            .zip(chain(other))
            .all(|(one, other)| same(one, other))
}
