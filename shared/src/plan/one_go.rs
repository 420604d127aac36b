//! Extends the first run: the same work on as many pairs as possible, where that makes no pair later.
//!
//! Among plans that are equally late, the solver prefers the least sum of completion times, which favours short runs. A
//! person at a station would rather do all the work that waits there.

use super::answer::Plan;
use super::construct::timetable::Timetable;
use super::instance::Instance;
use super::problem::PlanProblem;

/// The plan with its first block followed by the first operations of other pairs, up to `most` pairs in all, for which
/// `same` (given the indices of both pairs in the instance) says that their work goes together. No pair is left out or
/// later because of it, no pair that is done first ends later, and no more join windows are missed. Returns the plan
/// itself where nothing can be added.
pub fn in_one_go(instance: &Instance, plan: Plan, same: &dyn Fn(usize, usize) -> bool, most: usize) -> Plan {
    let Some(head) = plan.blocks.first().map(|block| block.pair) else {
        return plan;
    };
    let (problem, order, holds) = as_planned(instance, &plan);
    let Some(mut best) = Timetable::new(&problem, &order, &holds) else {
        return plan;
    };
    let least = burden(&problem, &best);
    let first_of = |pair: usize| {
        let data = problem.pairs.iter().find(|data| data.index == pair)?;
        Some((data.first_op, data.ready))
    };
    let begins = plan.blocks.iter().filter(|block| block.operation == 0);
    let mut front: Vec<u32> = Vec::new();
    for (id, ready) in begins
        .filter(|block| block.pair == head || same(head, block.pair))
        .filter_map(|block| first_of(block.pair))
    {
        let last = front.last().map(|last| best.schedule().spots[*last as usize].end);
        // Work that must dry first would interrupt the run.
        if front.len() == most || last.is_some_and(|last| ready > last) {
            continue;
        }
        front.push(id);
        let rest = order.iter().copied().filter(|id| !front.contains(id));
        let tried: Vec<u32> = front.iter().copied().chain(rest).collect();
        let no_more = |tried: &Timetable<'_>| {
            burden(&problem, tried)
                .iter()
                .zip(&least)
                .all(|(one, most)| one <= most)
        };
        match Timetable::new(&problem, &tried, &holds).filter(no_more) {
            Some(better) => best = better,
            None => drop(front.pop()),
        }
    }
    let extended = best.schedule().to_plan(instance, &problem, true, false);
    if front.len() < 2 || extended.weighted_tardiness > plan.weighted_tardiness {
        return plan;
    }
    Plan {
        left_out: plan.left_out,
        lower_bound: plan.lower_bound,
        ..extended
    }
}

/// The problem without the pairs that the plan leaves out, the plan's order, and the join windows it keeps.
fn as_planned(instance: &Instance, plan: &Plan) -> (PlanProblem, Vec<u32>, Vec<bool>) {
    let (all, _) = PlanProblem::new(instance);
    let planned = |index: usize| plan.pairs.iter().any(|done| done.pair == index);
    let left: Vec<bool> = all.pairs.iter().map(|pair| !planned(pair.index)).collect();
    let (problem, _) = all.without(&left);
    let mut first_of = vec![0; instance.pairs.len()];
    for pair in &problem.pairs {
        first_of[pair.index] = pair.first_op;
    }
    let id = |pair: usize, operation: usize| first_of[pair] + operation as u32;
    let order = plan.blocks.iter().map(|block| id(block.pair, block.operation));
    let order: Vec<u32> = order.collect();
    let mut holds: Vec<bool> = problem.ops.iter().map(super::problem::Op::can_be_held).collect();
    for block in plan
        .blocks
        .iter()
        .filter(|block| block.operation > 0 && block.rejoin_minutes > 0)
    {
        holds[id(block.pair, block.operation) as usize - 1] = false;
    }
    (problem, order, holds)
}

/// What the extended plan must not exceed: pairs left out, ends of the pairs done first, minutes late, minutes of
/// reheating.
fn burden(problem: &PlanProblem, timetable: &Timetable<'_>) -> [u64; 4] {
    let (out, first, late, _) = timetable.value().cost();
    let spots = timetable.schedule().spots;
    let attended = problem
        .ops
        .iter()
        .zip(&spots)
        .map(|(op, spot)| spot.end - spot.start - op.minutes);
    // Fewer set-ups must not be paid for with reheating: only extra minutes that no set-up explains count.
    let again = problem.ops.iter().zip(attended).filter(|(op, _)| op.rejoin > 0);
    let again = again.filter(|(op, more)| *more == op.rejoin || *more == op.rejoin + op.setup_minutes);
    [out, first, late, again.map(|(op, _)| op.rejoin as u64).sum()]
}
