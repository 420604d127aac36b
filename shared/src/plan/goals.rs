//! The search over by when each pair is to be done: choices that look good by the loads, each carried through the days by
//! a beam. The next choices are looked for near those that the best schedule so far came to.

use super::beam::Beam;
use super::capacity::Loads;
use super::problem::{Op, PlanProblem};
use super::schedule::Schedule;
use super::slot_assignment::{self, Choosing};
use super::timetable::Timing;
use super::value::PlanCost;

/// How much of the open time work is said to fill, in thousandths, one choice after the other: which is right depends on
/// what there is to fill it with.
const FILLS: [i64; 6] = [1000, 990, 995, 980, 1000, 960];
/// The same for the room that is left in a beam, in parts of [`super::beam::WHOLE`].
const LEFT: [i64; 5] = [1008, 1016, 1000, 1008, 1008];
/// So many choices are looked for from nothing.
const FRESH: u64 = 2;
/// How many changes of the choices are tried from nothing, and near good ones.
const FROM_NOTHING: u64 = 30_000;
const NEARBY: u64 = 8_000;
/// So many operations in a hundred are said to need setting up, until a schedule tells.
const SETTING_UP: i64 = 40;
/// If choices were tried already, others are looked for so often, each time with so many powers of two fewer changes.
const ATTEMPTS: u64 = 4;
const SHORTER: u64 = 2;
/// Choices that are later than the best schedule by more than such a part of that are not carried through.
const HOPE: u64 = 100;
/// How often in vain until they are looked for with more schedules side by side.
const IN_VAIN: u64 = 3;
/// So many states of a beam take as long as one change of another search.
const STATES: u64 = 4;
/// The least schedules side by side, and so many where there is time for it.
const NARROW: u64 = 3;
const WIDTH: u64 = 4;
/// There are twice as many where more than so many beams would come on each.
const BEAMS: u64 = 6;

/// Searches for better choices.
pub(super) struct Goals<'p> {
    problem: &'p PlanProblem,
    loads: &'p Loads,
    choosing: Choosing<'p>,
    beam: Beam<'p>,
    best: Option<Timing<'p>>,
    /// Minutes of work, and of setting up and heating again beside it.
    work: i64,
    extra: i64,
    /// What was carried through already.
    tried: Vec<Vec<usize>>,
}

impl<'p> Goals<'p> {
    /// Nothing is found yet.
    pub(super) fn new(problem: &'p PlanProblem, loads: &'p Loads, seed: u64) -> Self {
        let choosing = Choosing::new(problem, loads, seed);
        let beam = Beam::new(problem, loads, choosing.prices());
        let work = problem.ops.iter().map(|op| op.minutes).sum();
        let setups = problem.ops.iter().map(|op| op.setup_minutes).sum::<i64>();
        Self {
            problem,
            loads,
            work,
            extra: setups * SETTING_UP / 100,
            choosing,
            beam,
            best: None,
            tried: Vec::new(),
        }
    }

    /// The best schedule that is found in the time that so many changes of another search would take. `near`: it is looked
    /// for near this one from the beginning, which costs so much. None if no schedule that was found keeps all join windows.
    pub(super) fn run(
        mut self,
        trials: u64,
        near: Option<(&Schedule, PlanCost)>,
        keep_going: &dyn Fn() -> bool,
    ) -> Option<Timing<'p>> {
        let mut states = trials * STATES;
        let mut width = self.width(states);
        let beam_states = |width| Beam::states(self.problem, width);
        let is_quick = states < 2 * beam_states(width);
        let free = vec![false; self.problem.ops.len()];
        let held: Vec<bool> = self.problem.ops.iter().map(Op::can_be_held).collect();
        // Join windows that need not be kept are, which mostly is better; if there is time it is tried whether it is.
        let mut holds = &held;
        let mut in_vain = 0;
        let fills = FILLS.iter().cycle().zip(LEFT.iter().cycle());
        for (beam, (fill, left)) in (0..).zip(fills) {
            // There is always time for one, unless something is known already.
            if beam_states(width) > states && (beam > 0 || near.is_some()) {
                break;
            }
            let is_near = near.is_some() || beam >= FRESH;
            let begin = is_near.then(|| self.begin(near)).flatten();
            if !self.choose(self.for_work(*fill), begin.as_deref()) {
                in_vain += 1;
                if in_vain == IN_VAIN {
                    // There is nothing new near it: more of each choice.
                    (width, in_vain) = (2 * width, 0);
                    self.tried.clear();
                }
                continue;
            }
            in_vain = 0;
            states = states.saturating_sub(beam_states(width));
            self.beam.fill(self.for_work(*left));
            self.carry(holds, width, keep_going);
            let is_asked = beam == 0 && held.contains(&true) && !(is_quick && self.best.is_some());
            if is_asked && self.carry(&free, width, keep_going) {
                holds = &free;
            }
            // Nothing is better by when pairs are due.
            let is_in_time = self.best.as_ref().is_some_and(|best| best.value().is_in_time());
            if is_in_time || !self.choosing.has_any() || !keep_going() {
                break;
            }
        }
        self.best
    }

    /// What of such a part is for work itself: the rest goes into setting up and heating again.
    fn for_work(&self, parts: i64) -> i64 {
        parts * self.work / (self.work + self.extra).max(1)
    }

    /// By when each pair is done in the best schedule, or in another one if that is better.
    fn begin(&self, near: Option<(&Schedule, PlanCost)>) -> Option<Vec<usize>> {
        let better = |best: &&Timing<'_>| near.is_none_or(|(_, near)| best.value().cost() < near.cost());
        match self.best.as_ref().filter(better) {
            Some(best) => Some(self.choices(&best.schedule())),
            None => near.map(|(schedule, _)| self.choices(schedule)),
        }
    }

    /// How many schedules side by side, where so many states may be looked at.
    fn width(&self, states: u64) -> u64 {
        let count = |width| states / Beam::states(self.problem, width).max(1);
        let mut width = if count(WIDTH) == 0 { NARROW } else { WIDTH };
        while count(width) > BEAMS * width {
            width *= 2;
        }
        width
    }

    /// Looks for choices that were not tried, near others or from nothing: the shorter the search, the more they differ.
    /// Whether there are any.
    fn choose(&mut self, fill: i64, begin: Option<&[usize]>) -> bool {
        self.choosing.fill(fill);
        for attempt in 0..ATTEMPTS {
            let (trials, heat) = match begin {
                Some(begin) => {
                    self.choosing.begin_with(begin.to_vec());
                    (NEARBY, slot_assignment::WARMTH)
                }
                None => {
                    self.choosing.begin_soon();
                    (FROM_NOTHING, slot_assignment::INITIAL_TEMPERATURE)
                }
            };
            if self.choosing.has_any() {
                self.choosing.run(trials >> (SHORTER * attempt), heat);
            }
            // What is late by the loads alone is seldom less late in a schedule.
            let best = self.best.as_ref().map_or(u64::MAX, |best| best.value().late);
            if self.choosing.late() as u64 > best.saturating_add(best / HOPE) {
                return false;
            }
            if !self.tried.iter().any(|tried| tried == self.choosing.chosen()) {
                self.tried.push(self.choosing.chosen().to_vec());
                return true;
            }
        }
        false
    }

    /// What the pairs would have chosen who are done as in a schedule.
    fn choices(&self, schedule: &Schedule) -> Vec<usize> {
        let end = |id: u32| schedule.spots[id as usize].end;
        let pairs = (0..).zip(&self.problem.pairs);
        pairs
            .map(|(pair, data)| self.loads.about(pair, end(data.last_op)))
            .collect()
    }

    /// Carries the choices through, and keeps what comes of it if it is better. Whether it is.
    fn carry(&mut self, holds: &[bool], width: u64, keep_going: &dyn Fn() -> bool) -> bool {
        let chosen = self.choosing.chosen();
        let order = self.beam.run(chosen, holds, width as usize, keep_going);
        let Some(timing) = order.and_then(|order| Timing::new(self.problem, &order, holds)) else {
            return false;
        };
        let best = self.best.as_ref().map(|best| best.value().cost());
        let is_better = best.is_none_or(|best| timing.value().cost() < best);
        if is_better {
            let spots = timing.schedule().spots;
            self.extra = spots.iter().map(|spot| spot.end - spot.start).sum::<i64>() - self.work;
            self.best = Some(timing);
        }
        is_better
    }
}
