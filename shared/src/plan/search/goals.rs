//! The search over the times by which each pair is done. Choices that look good in the capacity model are turned into
//! schedules by the beam search; the next choices are searched for near those of the best schedule so far.

use crate::plan::capacity::CapacityModel;
use crate::plan::construct::beam::Beam;
use crate::plan::construct::timetable::Timetable;
use crate::plan::problem::{Op, PlanProblem};
use crate::plan::schedule::Schedule;
use crate::plan::search::slot_assignment::{self, SlotAssignment};
use crate::plan::value::PlanCost;

/// The shares of the open time that work is assumed to fill, in thousandths, tried one after the other. Which share is
/// right depends on the work.
const FILLS: [i64; 6] = [1000, 990, 995, 980, 1000, 960];
/// The same for the remaining room in a beam, in parts of [`crate::plan::construct::beam::WHOLE`].
const LEFT: [i64; 5] = [1008, 1016, 1000, 1008, 1008];
/// How many choices are searched for from scratch.
const FRESH: u64 = 2;
/// How many changes of the choices are tried from scratch, and near good ones.
const FROM_NOTHING: u64 = 30_000;
const NEARBY: u64 = 8_000;
/// The percentage of operations assumed to need a set-up, until a schedule shows the real share.
const SETTING_UP: i64 = 40;
/// If the choices found were tried before, how often others are searched for, each time with fewer changes (by growing
/// powers of two).
const ATTEMPTS: u64 = 4;
const SHORTER: u64 = 2;
/// Choices that are later than the best schedule by more than one part in this many are not turned into schedules.
const LATER_SHARE: u64 = 100;
/// After how many failures the beam is widened.
const WIDEN_AFTER: u64 = 3;
/// How many states of a beam take as long as one change in another search.
const STATES: u64 = 4;
/// The least width of a beam, and its width where there is time for it.
const NARROW: u64 = 3;
const WIDTH: u64 = 4;
/// The width is doubled when more than this many beams would fit into the time for each.
const BEAMS: u64 = 6;

/// The search for better choices.
pub(in crate::plan) struct GoalSearch<'p> {
    problem: &'p PlanProblem,
    model: &'p CapacityModel,
    assignment: SlotAssignment<'p>,
    beam: Beam<'p>,
    best: Option<Timetable<'p>>,
    /// The minutes of work, and the minutes of set-up and reheating beside it.
    work: i64,
    extra: i64,
    /// The choices that were tried before.
    tried: Vec<Vec<usize>>,
}

impl<'p> GoalSearch<'p> {
    /// A search that has found nothing yet.
    pub(in crate::plan) fn new(problem: &'p PlanProblem, model: &'p CapacityModel, seed: u64) -> Self {
        let assignment = SlotAssignment::new(problem, model, seed);
        let beam = Beam::new(problem, model, assignment.prices());
        let work = problem.ops.iter().map(|op| op.minutes).sum();
        let setups = problem.ops.iter().map(|op| op.setup_minutes).sum::<i64>();
        Self {
            problem,
            model,
            work,
            extra: setups * SETTING_UP / 100,
            assignment,
            beam,
            best: None,
            tried: Vec::new(),
        }
    }

    /// The best schedule found within the time that so many changes of another search would take. With `near`, the
    /// search begins near that schedule, which has that cost. None if no schedule that was found keeps all join
    /// windows.
    pub(in crate::plan) fn run(
        mut self,
        trials: u64,
        near: Option<(&Schedule, PlanCost)>,
        keep_going: &dyn Fn() -> bool,
    ) -> Option<Timetable<'p>> {
        let mut states = trials * STATES;
        let mut width = self.width(states);
        let beam_states = |width| Beam::states(self.problem, width);
        let is_quick = states < 2 * beam_states(width);
        let free = vec![false; self.problem.ops.len()];
        let held: Vec<bool> = self.problem.ops.iter().map(Op::can_be_held).collect();
        // Soft join windows are kept at first, which is mostly better; if time is left, both ways are compared.
        let mut holds = &held;
        let mut failures = 0;
        let fills = FILLS.iter().cycle().zip(LEFT.iter().cycle());
        for (beam, (fill, left)) in (0..).zip(fills) {
            // One beam is always run, unless a schedule is known already.
            if beam_states(width) > states && (beam > 0 || near.is_some()) {
                break;
            }
            let is_near = near.is_some() || beam >= FRESH;
            let begin = is_near.then(|| self.begin(near)).flatten();
            if !self.choose(self.for_work(*fill), begin.as_deref()) {
                failures += 1;
                if failures == WIDEN_AFTER {
                    // There are no untried choices near the best schedule: a wider beam for each choice.
                    (width, failures) = (2 * width, 0);
                    self.tried.clear();
                }
                continue;
            }
            failures = 0;
            states = states.saturating_sub(beam_states(width));
            self.beam.fill(self.for_work(*left));
            self.carry(holds, width, keep_going);
            let is_asked = beam == 0 && held.contains(&true) && !(is_quick && self.best.is_some());
            if is_asked && self.carry(&free, width, keep_going) {
                holds = &free;
            }
            // If all pairs are in time, due times cannot improve the plan.
            let is_in_time = self.best.as_ref().is_some_and(|best| best.value().is_in_time());
            if is_in_time || !self.assignment.has_any() || !keep_going() {
                break;
            }
        }
        self.best
    }

    /// The part of the given room that is left for work after set-up and reheating.
    fn for_work(&self, parts: i64) -> i64 {
        parts * self.work / (self.work + self.extra).max(1)
    }

    /// The choices of the best schedule, or of `near` if that is better.
    fn begin(&self, near: Option<(&Schedule, PlanCost)>) -> Option<Vec<usize>> {
        let better = |best: &&Timetable<'_>| near.is_none_or(|(_, near)| best.value().cost() < near.cost());
        match self.best.as_ref().filter(better) {
            Some(best) => Some(self.choices(&best.schedule())),
            None => near.map(|(schedule, _)| self.choices(schedule)),
        }
    }

    /// The width of a beam that evaluates about so many states.
    fn width(&self, states: u64) -> u64 {
        let count = |width| states / Beam::states(self.problem, width).max(1);
        let mut width = if count(WIDTH) == 0 { NARROW } else { WIDTH };
        while count(width) > BEAMS * width {
            width *= 2;
        }
        width
    }

    /// Searches for untried choices, near others or from scratch; a shorter search gives more varied choices. Returns
    /// whether it found any.
    fn choose(&mut self, fill: i64, begin: Option<&[usize]>) -> bool {
        self.assignment.fill(fill);
        for attempt in 0..ATTEMPTS {
            let (trials, temperatures) = match begin {
                Some(begin) => {
                    self.assignment.begin_with(begin.to_vec());
                    (NEARBY, slot_assignment::WARM_START_TEMPERATURE)
                }
                None => {
                    self.assignment.begin_soon();
                    (FROM_NOTHING, slot_assignment::INITIAL_TEMPERATURE)
                }
            };
            if self.assignment.has_any() {
                self.assignment.run(trials >> (SHORTER * attempt), temperatures);
            }
            // Choices that are late in the capacity model are seldom less late in a schedule.
            let best = self.best.as_ref().map_or(u64::MAX, |best| best.value().late);
            if self.assignment.late() as u64 > best.saturating_add(best / LATER_SHARE) {
                return false;
            }
            if !self.tried.iter().any(|tried| tried == self.assignment.chosen()) {
                self.tried.push(self.assignment.chosen().to_vec());
                return true;
            }
        }
        false
    }

    /// The choices that fit the ends of the pairs in a schedule.
    fn choices(&self, schedule: &Schedule) -> Vec<usize> {
        let end = |id: u32| schedule.spots[id as usize].end;
        let pairs = (0..).zip(&self.problem.pairs);
        pairs
            .map(|(pair, data)| self.model.about(pair, end(data.last_op)))
            .collect()
    }

    /// Runs the beam search for the choices, and keeps its schedule if it is better. Returns whether it is.
    fn carry(&mut self, holds: &[bool], width: u64, keep_going: &dyn Fn() -> bool) -> bool {
        let chosen = self.assignment.chosen();
        let order = self.beam.run(chosen, holds, width as usize, keep_going);
        let Some(timetable) = order.and_then(|order| Timetable::new(self.problem, &order, holds)) else {
            return false;
        };
        let best = self.best.as_ref().map(|best| best.value().cost());
        let is_better = best.is_none_or(|best| timetable.value().cost() < best);
        if is_better {
            let spots = timetable.schedule().spots;
            self.extra = spots.iter().map(|spot| spot.end - spot.start).sum::<i64>() - self.work;
            self.best = Some(timetable);
        }
        is_better
    }
}
