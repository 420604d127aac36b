//! Serial schedule generation: runs of operations are put one after another into the earliest gaps.
//!
//! A run is an operation together with those that must follow it within join windows. The list of all runs (those of a
//! pair in their order) is the order of priority: each run is put where it ends first among the runs already placed, so
//! a later run in the list never delays an earlier one.
//!
//! The wait inside a run is stretched, up to the join window, to the length of a run that comes next in the list and
//! fits into it: so whole pieces of other work fit into drying times.
//!
//! Set-up is calculated with the neighbours that a gap has at that moment. A gap in which the operation would make the
//! one behind it set up anew is not used; set-up minutes that it saves there stay in place until the order is timed by
//! [`super::timetable`].

use crate::plan::problem::{PlanProblem, Spot};
use crate::plan::value::PlanCost;

mod putting;

/// A gap in a worker's time, and the operations on both sides of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Gap {
    start: i64,
    end: i64,
    before: u32,
    after: u32,
}

type Gaps = Vec<Vec<Gap>>;

const NO_OP: u32 = u32::MAX;
/// The gaps are saved at every so many runs.
const EVERY: usize = 6;
/// Among how many of the next runs in the list one is looked for that fills a wait.
const AHEAD: usize = 6;

/// The most that a trial may cost, and what was changed for it.
#[derive(Debug, Clone, Copy)]
pub(in crate::plan) struct TrialLimit {
    pub(in crate::plan) value: PlanCost,
    /// The last place of the list that changed. After it, a trial is given up if it is worse by more than `margin` than
    /// the current list.
    pub(in crate::plan) last: usize,
    pub(in crate::plan) margin: u64,
    /// The pair that was moved, and the most it can gain. Up to `last`, a trial is given up if it harms the other pairs
    /// by more than that plus `margin`.
    pub(in crate::plan) moved: u32,
    pub(in crate::plan) gain: u64,
}

/// The current list of runs with their gaps, and a trial list.
#[derive(Debug, Clone)]
pub(in crate::plan) struct SerialSchedule<'p> {
    problem: &'p PlanProblem,
    /// The first and last operation of each run; the numbers between belong to the same run.
    pub(in crate::plan) runs: Vec<(u32, u32)>,
    /// The run of each operation.
    pub(in crate::plan) run_of: Vec<u32>,
    /// The list to be tried. While nothing is tried it equals the current one.
    pub(in crate::plan) trial: Vec<u32>,
    /// The current list.
    pub(in crate::plan) list: Vec<u32>,
    /// The place of each run in the current list.
    pub(in crate::plan) position: Vec<u32>,
    standing: Vec<Spot>,
    tried: Vec<Spot>,
    /// The number of the last trial in which each operation was placed.
    stamp: Vec<u32>,
    trials: u32,
    values: Vec<PlanCost>,
    tried_values: Vec<PlanCost>,
    /// What each run adds to the guide cost in the current list and, by place, in the trial.
    costs: Vec<u64>,
    tried_costs: Vec<u64>,
    gaps: Gaps,
    marks: Vec<Gaps>,
    tried_marks: Vec<Gaps>,
    /// The gap into which each operation was put.
    gap_of: Vec<usize>,
    /// For each run, the number of the last trial in which it was placed, and whether it ends there at another time
    /// than in the current list.
    differs: Vec<(u32, bool)>,
    /// The range of places that were evaluated in the trial, and the cost of everything before its end.
    from: usize,
    until: usize,
    reached: PlanCost,
    /// A gap shorter than any operation is dropped.
    shortest: i64,
}

impl<'p> SerialSchedule<'p> {
    /// No list is evaluated yet; `holds` says which soft join windows are kept.
    pub(in crate::plan) fn new(problem: &'p PlanProblem, holds: &[bool]) -> Self {
        let (runs, run_of) = runs(problem, holds);
        let day = problem.calendar.windows().iter().map(|(start, end)| Gap {
            start: *start,
            end: *end,
            before: NO_OP,
            after: NO_OP,
        });
        let gaps = vec![day.collect::<Vec<_>>(); problem.workers];
        let (count, ops) = (runs.len(), problem.ops.len());
        let marks = vec![gaps.clone(); count / EVERY + 1];
        let list: Vec<u32> = (0..count as u32).collect();
        // With set-ups, what lies between two operations matters however short the gap is.
        let shortest = problem.ops.iter().map(|op| op.minutes).min().unwrap_or(0);
        Self {
            problem,
            runs,
            run_of,
            trial: list.clone(),
            position: list.clone(),
            list,
            standing: vec![Spot::default(); ops],
            tried: vec![Spot::default(); ops],
            stamp: vec![0; ops],
            trials: 0,
            values: vec![PlanCost::default(); count + 1],
            tried_values: vec![PlanCost::default(); count + 1],
            marks: marks.clone(),
            tried_marks: marks,
            gaps,
            gap_of: vec![0; ops],
            differs: vec![(0, false); count],
            costs: vec![0; count],
            tried_costs: vec![0; count],
            from: 0,
            until: 0,
            reached: PlanCost::default(),
            shortest: if problem.has_setups { 1 } else { shortest.max(1) },
        }
    }

    /// The cost of the current list.
    pub(in crate::plan) fn value(&self) -> PlanCost {
        self.values.last().copied().unwrap_or_default()
    }

    /// Where an operation lies in the current list.
    pub(in crate::plan) fn spot(&self, id: u32) -> Spot {
        self.standing[id as usize]
    }

    /// Whether a run is the first of its pair.
    pub(in crate::plan) fn begins(&self, run: u32) -> bool {
        self.problem.ops[self.runs[run as usize].0 as usize].is_first
    }

    /// Whether a run is the last of its pair.
    pub(in crate::plan) fn ends(&self, run: u32) -> bool {
        self.problem.ops[self.runs[run as usize].1 as usize].is_last
    }

    /// What a pair adds to the guide cost.
    pub(in crate::plan) fn cost(&self, pair: u32) -> u64 {
        let data = &self.problem.pairs[pair as usize];
        let runs = self.run_of[data.first_op as usize]..=self.run_of[data.last_op as usize];
        runs.map(|run| self.costs[run as usize]).sum()
    }

    /// The pair of a run.
    pub(in crate::plan) fn pair(&self, run: u32) -> u32 {
        self.problem.ops[self.runs[run as usize].0 as usize].pair
    }

    /// All operations in order of start, from which the other search goes on.
    pub(in crate::plan) fn order(&self) -> Vec<u32> {
        let mut order: Vec<u32> = (0..self.standing.len() as u32).collect();
        order.sort_by_key(|id| (self.spot(*id).start, self.spot(*id).end, *id));
        order
    }

    /// The cost of the trial, which equals the current list up to `first`. None if it costs more than `most` allows.
    pub(in crate::plan) fn evaluate(&mut self, first: usize, most: Option<&TrialLimit>) -> Option<PlanCost> {
        // A run that fills a wait may have come from a later place.
        self.begin(first.saturating_sub(AHEAD));
        let mut value = self.values[self.from];
        let (mut harm, mut differing) = (0, 0);
        for place in self.from..self.trial.len() {
            if place % EVERY == 0 && place > self.from {
                if differing == 0
                    && most.is_some_and(|most| place > most.last)
                    && self.gaps == self.marks[place / EVERY]
                {
                    // From here on the trial equals the current list.
                    (self.until, self.reached) = (place, value);
                    let total = value.plus(&self.value().less(&self.values[place]));
                    return most.filter(|most| total <= most.value).map(|_| total);
                }
                copy(&self.gaps, &mut self.tried_marks[place / EVERY]);
            }
            self.tried_values[place] = value;
            value = self.put(place, value);
            differing += self.difference(self.trial[place]);
            let cost = value.guide - self.tried_values[place].guide;
            self.tried_costs[place] = cost;
            if let Some(most) = most {
                let run = self.trial[place];
                if most.moved != self.pair(run) {
                    harm += cost as i64 - self.costs[run as usize] as i64;
                }
                if value > most.value || self.is_worse(place, &value, harm, most) {
                    return None;
                }
            }
        }
        (self.until, self.reached) = (self.trial.len(), value);
        Some(value)
    }

    /// Whether the part of the trial up to `place` already costs more than allowed.
    fn is_worse(&self, place: usize, value: &PlanCost, harm: i64, most: &TrialLimit) -> bool {
        let standing = &self.values[place + 1];
        if value.out != standing.out {
            return false;
        }
        if place < most.last {
            return harm > (most.gain + most.margin) as i64;
        }
        value.guide > standing.guide + most.margin
    }

    /// The change in the number of pairs that differ from the current list, now that this run is placed.
    fn difference(&mut self, run: u32) -> i32 {
        let (one, last) = self.runs[run as usize];
        let (run, last) = (run as usize, last as usize);
        let differs = self.tried[last].end != self.standing[last].end;
        self.differs[run] = (self.trials, differs);
        let before = !self.problem.ops[one as usize].is_first && self.differs[run - 1] == (self.trials, true);
        i32::from(differs && !self.problem.ops[last].is_last) - i32::from(before)
    }

    fn begin(&mut self, first: usize) {
        self.trials = self.trials.wrapping_add(1);
        self.from = first / EVERY * EVERY;
        copy(&self.marks[first / EVERY], &mut self.gaps);
    }

    /// Makes the trial, which was just evaluated, the current list.
    pub(in crate::plan) fn accept(&mut self) {
        let (from, until) = (self.from, self.until);
        for place in from..until {
            let run = self.trial[place] as usize;
            self.position[run] = place as u32;
            self.costs[run] = self.tried_costs[place];
            let (one, last) = self.runs[run];
            let ids = one as usize..=last as usize;
            self.standing[ids.clone()].copy_from_slice(&self.tried[ids]);
        }
        self.list[from..until].copy_from_slice(&self.trial[from..until]);
        self.values[from..until].copy_from_slice(&self.tried_values[from..until]);
        let before = self.values[until];
        for value in &mut self.values[until..] {
            *value = value.less(&before).plus(&self.reached);
        }
        for mark in from / EVERY + 1..until.div_ceil(EVERY) {
            std::mem::swap(&mut self.marks[mark], &mut self.tried_marks[mark]);
        }
    }

    /// Puts the trial between two places back to the current list.
    pub(in crate::plan) fn reject(&mut self, first: usize, last: usize) {
        self.trial[first..=last].copy_from_slice(&self.list[first..=last]);
    }
}

fn copy(from: &Gaps, to: &mut Gaps) {
    for (from, to) in from.iter().zip(to) {
        to.clear();
        to.extend_from_slice(from);
    }
}

/// The runs, and the run of each operation.
fn runs(problem: &PlanProblem, holds: &[bool]) -> (Vec<(u32, u32)>, Vec<u32>) {
    let mut runs = Vec::new();
    let mut run_of = Vec::with_capacity(problem.ops.len());
    let mut one = 0;
    for id in 0..problem.ops.len() as u32 {
        run_of.push(runs.len() as u32);
        if !problem.is_kept(id, holds) {
            runs.push((one, id));
            one = id + 1;
        }
    }
    (runs, run_of)
}
