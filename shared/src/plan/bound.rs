//! A lower bound of the weighted tardiness of any plan, by relaxing chains and set-ups.
//!
//! The relaxation drops three rules: that work is not interrupted, that there are waits between the operations of a
//! pair, and set-ups. Then at no time can more pairs be finished than by always working on the pair with the least work
//! left, so the k-th pair is finished no earlier than the k-th one of that schedule. It is also finished no earlier
//! than its own work and the k - 1 smallest others take, and no earlier than if it were alone. The cheapest assignment
//! of these positions to the pairs, solved exactly, is a lower bound.

use super::calendar::FOREVER;
use super::problem::PlanProblem;

/// With more pairs than this, each pair is bounded as if it were alone, because the time of the assignment grows with
/// the third power.
const MOST_PAIRS: usize = 150;

/// A pair reduced to one job without its chain.
struct BoundJob {
    weight: i64,
    due: i64,
    /// When its work can begin, in minutes of work that all workers together can have done by then.
    ready: i64,
    work: i64,
    /// The wait after its last operation.
    tail: i64,
    alone: i64,
}

/// A lower bound of the weighted tardiness of all pairs.
pub(super) fn lower_bound(problem: &PlanProblem) -> u64 {
    let open = WorkingTime::new(problem);
    let pairs = (0..problem.pairs.len()).map(|pair| job(problem, &open, pair));
    // Pairs without a due time or weight can always be done after these.
    let jobs: Vec<BoundJob> = pairs.filter(|job| job.due < FOREVER && job.weight > 0).collect();
    let each_alone = jobs.iter().map(|job| job.cost(job.alone)).sum::<i64>();
    if jobs.len() > MOST_PAIRS {
        return each_alone as u64;
    }
    let finished = finished(&jobs);
    let mut by_work: Vec<(i64, usize)> = jobs.iter().map(|job| job.work).zip(0..).collect();
    by_work.sort_unstable();
    let begin = jobs.iter().map(|job| job.ready).min().unwrap_or(0);
    let costs: Vec<Vec<i64>> = jobs
        .iter()
        .enumerate()
        .map(|(index, job)| {
            let mut smaller = 0;
            let mut others = by_work.iter().filter(|(_, other)| *other != index);
            let mut row = Vec::with_capacity(jobs.len());
            for finished in &finished {
                let work = (*finished).max(begin + job.work + smaller);
                row.push(job.cost((open.clock(work) + job.tail).max(job.alone)));
                smaller += others.next().map_or(0, |(work, _)| *work);
            }
            row
        })
        .collect();
    assignment(&costs).max(each_alone).max(0) as u64
}

fn job(problem: &PlanProblem, open: &WorkingTime, pair: usize) -> BoundJob {
    let data = &problem.pairs[pair];
    let chain = &problem.ops[data.first_op as usize..=data.last_op as usize];
    BoundJob {
        weight: data.weight as i64,
        due: data.due,
        ready: open.done_by(data.ready),
        work: chain.iter().map(|op| op.minutes).sum(),
        tail: problem.ops[data.last_op as usize].wait,
        alone: problem.alone(pair).unwrap_or(0),
    }
}

impl BoundJob {
    fn cost(&self, done: i64) -> i64 {
        self.weight * (done - self.due).max(0)
    }
}

/// Open time: converts minutes of the clock into minutes of work that all workers together can have done.
struct WorkingTime {
    /// From, until, and the minutes of work that can have been done before.
    spans: Vec<(i64, i64, i64)>,
    workers: i64,
}

impl WorkingTime {
    fn new(problem: &PlanProblem) -> Self {
        let workers = problem.workers as i64;
        let mut spans: Vec<(i64, i64, i64)> = Vec::new();
        let mut before = 0;
        for (opens, closes) in problem.calendar.windows() {
            // Windows may overlap.
            let opens = spans.last().map_or(*opens, |last| last.1.max(*opens));
            spans.push((opens, *closes, before));
            before += (closes - opens).min(FOREVER / 64) * workers;
        }
        Self { spans, workers }
    }

    fn done_by(&self, clock: i64) -> i64 {
        let last = self.spans.iter().rev().find(|(opens, ..)| *opens <= clock);
        last.map_or(0, |(opens, closes, before)| {
            before + (clock.min(*closes) - opens) * self.workers
        })
    }

    /// The earliest minute of the clock by which so much work can have been done.
    fn clock(&self, work: i64) -> i64 {
        let first = self.spans.partition_point(|(_, _, before)| *before < work);
        self.spans
            .get(first.saturating_sub(1))
            .map_or(0, |(opens, _, before)| {
                opens + (work - before + self.workers - 1).div_euclid(self.workers)
            })
    }
}

/// When the first, second, … job is finished if the job with the least work left is always done first.
fn finished(jobs: &[BoundJob]) -> Vec<i64> {
    let mut arriving: Vec<(i64, i64)> = jobs.iter().map(|job| (job.ready, job.work)).collect();
    arriving.sort_unstable();
    let mut arriving = arriving.into_iter().peekable();
    // The work left of each job, in descending order.
    let mut left: Vec<i64> = Vec::new();
    let mut done = Vec::with_capacity(jobs.len());
    let mut time = 0;
    loop {
        while let Some((_, work)) = arriving.next_if(|(ready, _)| *ready <= time) {
            let at = left.partition_point(|other| *other > work);
            left.insert(at, work);
        }
        let next = arriving.peek().map(|(ready, _)| *ready);
        match (left.pop(), next) {
            (Some(work), Some(next)) if time + work > next => {
                left.push(work - (next - time));
                time = next;
            }
            (Some(work), _) => {
                time += work;
                done.push(time);
            }
            (None, Some(next)) => time = next,
            (None, None) => return done,
        }
    }
}

/// The least sum of one cost from each row, with no column used twice (the Hungarian method with potentials).
fn assignment(costs: &[Vec<i64>]) -> i64 {
    let count = costs.len();
    let mut row_potential = vec![0; count + 1];
    let mut column_potential = vec![0; count + 1];
    // The row assigned to each column, from 1; column 0 is where a new row begins.
    let mut row_of = vec![0; count + 1];
    let mut way = vec![0; count + 1];
    for row in 1..=count {
        row_of[0] = row;
        let mut column = 0;
        let mut least = vec![i64::MAX; count + 1];
        let mut used = vec![false; count + 1];
        while row_of[column] != 0 {
            used[column] = true;
            let from = row_of[column];
            let (mut step, mut next) = (i64::MAX, 0);
            for other in (1..=count).filter(|other| !used[*other]) {
                let reduced = costs[from - 1][other - 1] - row_potential[from] - column_potential[other];
                if reduced < least[other] {
                    least[other] = reduced;
                    way[other] = column;
                }
                if least[other] < step {
                    (step, next) = (least[other], other);
                }
            }
            for other in 0..=count {
                if used[other] {
                    row_potential[row_of[other]] += step;
                    column_potential[other] -= step;
                } else if least[other] < i64::MAX {
                    least[other] -= step;
                }
            }
            column = next;
        }
        while column != 0 {
            let before = way[column];
            row_of[column] = row_of[before];
            column = before;
        }
    }
    -column_potential[0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn by_trying(costs: &[Vec<i64>], row: usize, used: &mut Vec<bool>) -> i64 {
        if row == costs.len() {
            return 0;
        }
        let mut best = i64::MAX;
        for column in 0..costs.len() {
            if !used[column] {
                used[column] = true;
                best = best.min(costs[row][column] + by_trying(costs, row + 1, used));
                used[column] = false;
            }
        }
        best
    }

    proptest! {
        #[test]
        fn the_assignment_is_the_cheapest(costs in (1_usize..6).prop_flat_map(|n| {
            prop::collection::vec(prop::collection::vec(0_i64..100, n), n)
        })) {
            let mut used = vec![false; costs.len()];
            prop_assert_eq!(assignment(&costs), by_trying(&costs, 0, &mut used));
        }
    }
}
