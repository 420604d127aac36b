//! Simulated plans: the operations in a given order, with random durations and random hidden damage.

use crate::plan::answer::Plan;
use crate::plan::construct::dispatch;
use crate::plan::construct::timetable::Timetable;
use crate::plan::instance::{Instance, PlanOperation, PlanPair};
use crate::plan::lognormal::draw;
use crate::plan::problem::PlanProblem;
use crate::plan::random_series::RandomSeries;

/// The number of simulated plans.
const DRAWS: usize = 400;

/// An operation of a pair, both by their indices in the instance.
pub(super) type Turn = (usize, usize);

/// The operations of a plan, in its order.
pub(super) fn turns(plan: &Plan) -> Vec<Turn> {
    plan.blocks
        .iter()
        .map(|block| (block.pair, block.operation))
        .collect()
}

/// Simulations of an instance, whose pairs from index `known` on are new.
#[derive(Clone, Copy)]
pub(super) struct Draws<'a> {
    pub(super) all: &'a Instance,
    pub(super) known: usize,
    pub(super) seed: u64,
}

impl Draws<'_> {
    /// When all new pairs are done in each simulation, the earliest first; `i64::MAX` where one of them is not done
    /// before the windows end. Each call draws the same random numbers.
    pub(super) fn done(&self, turns: &[Turn]) -> Vec<i64> {
        let mut random = RandomSeries::of(self.seed);
        let mut done: Vec<i64> = (0..DRAWS).map(|_| self.once(turns, &mut random)).collect();
        done.sort_unstable();
        done
    }

    fn once(&self, turns: &[Turn], random: &mut RandomSeries) -> i64 {
        let mut drawn = self.all.clone();
        let longest = longest_window(self.all);
        let extra: Vec<usize> = drawn
            .pairs
            .iter_mut()
            .map(|pair| draw_pair(pair, longest, random))
            .collect();
        let (problem, _) = PlanProblem::new(&drawn);
        let order = order(&problem, turns, &extra);
        let timetable = Timetable::new(&problem, &order, &[]).or_else(|| {
            let orders = dispatch::orders(&problem);
            orders
                .filter_map(|order| Timetable::new(&problem, &order, &[]))
                .min_by_key(|timetable| timetable.value().cost())
        });
        let new = || problem.pairs.iter().filter(|pair| pair.index >= self.known);
        let Some(timetable) = timetable.filter(|_| new().count() == self.all.pairs.len() - self.known) else {
            return i64::MAX;
        };
        let schedule = timetable.schedule();
        let done = new().map(|pair| {
            let end = schedule.spots[pair.last_op as usize].end;
            if end >= problem.calendar.overflow {
                return i64::MAX;
            }
            end + problem.ops[pair.last_op as usize].wait + self.all.now
        });
        done.max().unwrap_or(i64::MAX)
    }
}

/// Draws the durations of a pair, and puts the repairs of hidden damage after its first operation. Returns how many
/// there are.
fn draw_pair(pair: &mut PlanPair, longest: u32, random: &mut RandomSeries) -> usize {
    let mut rejoin = pair.rejoin_minutes;
    for operation in &mut pair.operations {
        let p90 = operation.minutes_p90.unwrap_or(operation.minutes);
        // An operation that is drawn longer than any window is cut to the longest window: in the shop it would be
        // interrupted. Set-up and reheating must fit in as well: what fits nowhere would block everything after it.
        let most = longest
            .saturating_sub(operation.setup_minutes)
            .saturating_sub(rejoin)
            .max(operation.minutes);
        operation.minutes = draw(operation.minutes, p90, random).min(most);
        rejoin = operation.rejoin_minutes.unwrap_or(0);
    }
    let found = pair.hidden.iter().filter(|hidden| random.unit() < hidden.chance);
    let mending: Vec<PlanOperation> = found
        .map(|hidden| PlanOperation {
            minutes: hidden.minutes.min(longest),
            wait_min: hidden.wait_min,
            ..PlanOperation::default()
        })
        .collect();
    let count = mending.len();
    let at = pair.operations.len().min(1);
    pair.operations.splice(at..at, mending);
    count
}

/// Minutes of the longest window that is not over.
fn longest_window(all: &Instance) -> u32 {
    let windows = all.windows.iter().flatten();
    let lengths = windows.map(|[start, end]| end - start.max(&all.now));
    lengths
        .max()
        .map_or(0, |longest| u32::try_from(longest).unwrap_or(0))
}

/// The order of the turns, with `extra` repairs of each pair right after its first operation; pairs that have no turn
/// come last.
pub(super) fn order(problem: &PlanProblem, turns: &[Turn], extra: &[usize]) -> Vec<u32> {
    let mut first_of = vec![None; extra.len()];
    for pair in &problem.pairs {
        first_of[pair.index] = Some(pair.first_op);
    }
    let mut order = Vec::with_capacity(problem.ops.len());
    let mut placed = vec![false; extra.len()];
    for (pair, operation) in turns.iter().copied() {
        let Some(first) = first_of[pair] else {
            continue;
        };
        placed[pair] = true;
        let more = extra[pair] as u32;
        match operation {
            0 => order.extend(first..=first + more),
            later => order.push(first + more + later as u32),
        }
    }
    let left = problem.pairs.iter().filter(|pair| !placed[pair.index]);
    order.extend(left.flat_map(|pair| pair.first_op..=pair.last_op));
    order
}
