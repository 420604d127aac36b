//! The plan that stands, from which a new one should differ only for a reason.
//!
//! A person follows a plan only if it keeps still. So each operation has a place to keep: where it lies if the order that
//! stands is timed again from now. Ending elsewhere costs as much as some lateness does: much in the next hours, little
//! later in the week. The field calls this schedule stability; its usual measure is the sum of the differences of start or
//! completion times (Herroelen and Leus 2004, "Robust and reactive project scheduling").

use std::collections::{BTreeSet, HashMap};

use super::construct::timetable::Timetable;
use super::instance::Instance;
use super::kept_place::{DAY, KeptPlace};
use super::problem::{Op, PairData, PlanProblem, Spot};

/// The minutes from now within which a change counts as one of the next hours.
const NEXT_HOURS: i64 = 4 * 60;
/// The minutes from now within which a change counts as one of the next day.
const NEXT_DAY: i64 = 24 * 60;
/// The minutes from now within which a change counts at all.
const NEXT_WEEK: i64 = 7 * 24 * 60;
/// The cost of each minute by which an operation ends earlier or later than it stands, in 256ths of a weighted
/// minute late: in the next hours, in the next day, in the week.
const PER_MINUTE: [u64; 3] = [16, 4, 1];
/// The cost of another day on which a pair is done, in weighted minutes late.
const OTHER_DAY: u64 = 15;
/// What begins within so many minutes begins now.
const AT_ONCE: i64 = 3;
/// A cost beyond that of any lateness.
const LOCKED: u64 = 1 << 44;

/// By how much another operation must be better than the one that a worker does now, in weighted minutes late, before it
/// comes first.
pub const MARGIN: u64 = 30;

/// The weight of changes at which the constants above count as they stand, in percent. The trade-off between lateness and
/// changes is measured in the plan's README.
pub const USUAL_WEIGHT: u64 = 100;

/// What it costs to begin later with the operation that each worker does now.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Top {
    /// Nothing beyond what any change costs.
    #[default]
    Free,
    /// So many weighted minutes late.
    Margin(u64),
    /// It is never done, unless a pair is to be done first or could not be planned otherwise.
    Locked,
}

/// When operations begin in the plan that stands, matched to the operations of an instance.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct StandingPlan {
    /// For each pair of the instance and each of its operations, the minute at which it begins; `None` if it is not in the
    /// plan that stands.
    starts: Vec<Vec<Option<i64>>>,
    /// The current minute.
    now: i64,
    /// What it costs to end later with the operation that each worker does now, and with the next operations of `run`.
    pub top: Top,
    /// The pairs of the runs that are under way, by their index in the instance, each with its place in its run, from 0. What is
    /// next in the run of any worker comes before what is behind it in another one.
    pub runs: Vec<(usize, usize)>,
    /// The weight of changes, in percent of the usual one; 0 plans freely.
    pub weight: u64,
}

/// An operation of the plan that stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StandingOperation<'a> {
    /// What tells its pair from others.
    pub pair: &'a str,
    /// Its name.
    pub name: &'a str,
    /// The minute at which it begins.
    pub start: i64,
}

impl StandingPlan {
    /// Matches a plan to the pairs of an instance, which may be others and may have less or more to be done. `key` tells
    /// the pairs apart. Of several operations of one pair with one name the last ones are taken to be the same, because the
    /// first ones may have been done meanwhile.
    pub fn matched<'a>(
        instance: &Instance,
        key: &dyn Fn(usize) -> &'a str,
        operations: impl IntoIterator<Item = StandingOperation<'a>>,
    ) -> Self {
        let mut known: HashMap<(&str, &str), Vec<i64>> = HashMap::new();
        for operation in operations {
            let starts = known.entry((operation.pair, operation.name)).or_default();
            starts.push(operation.start);
        }
        for starts in known.values_mut() {
            starts.sort_unstable();
        }
        let mut starts = Vec::with_capacity(instance.pairs.len());
        for (index, pair) in instance.pairs.iter().enumerate() {
            let mut of_pair: Vec<Option<i64>> = pair
                .operations
                .iter()
                .rev()
                .map(|operation| known.get_mut(&(key(index), operation.name.as_str()))?.pop())
                .collect();
            of_pair.reverse();
            starts.push(of_pair);
        }
        Self {
            starts,
            now: instance.now,
            top: Top::default(),
            runs: Vec::new(),
            weight: USUAL_WEIGHT,
        }
    }

    /// The same plan, with another cost of beginning later with what each worker does now.
    #[must_use]
    pub fn with_top(mut self, top: Top) -> Self {
        self.top = top;
        self
    }

    /// Whether every operation of the instance is in the plan that stands, but for those of the pairs that `left_out` names.
    pub fn has_all(&self, left_out: &dyn Fn(usize) -> bool) -> bool {
        let pairs = self.starts.iter().enumerate();
        let mut others = pairs.filter(|(pair, _)| !left_out(*pair));
        others.all(|(_, starts)| starts.iter().all(Option::is_some))
    }

    /// How many operations of the instance are in the plan that stands.
    pub fn known(&self) -> usize {
        self.starts.iter().flatten().flatten().count()
    }

    /// The operations of the problem in the order that stands. Pairs that are not in the plan come last, or as soon as they can
    /// if they are to be done first; an operation that is not in it comes with the one that follows it.
    fn order(&self, problem: &PlanProblem) -> Vec<u32> {
        let mut starts: Vec<i64> = Vec::with_capacity(problem.ops.len());
        for pair in &problem.pairs {
            let known = &self.starts[pair.index];
            if known.iter().any(Option::is_some) {
                starts.extend(filled(known));
            } else if pair.pinned {
                starts.extend(soonest(problem, pair, self.now));
            } else {
                starts.extend(known.iter().map(|_| i64::MAX));
            }
        }
        let mut order: Vec<u32> = (0..problem.ops.len() as u32).collect();
        let place = |id: u32| self.place_in_run(problem, id).unwrap_or(usize::MAX);
        order.sort_by_key(|id| (place(*id), starts[*id as usize], *id));
        order
    }

    /// The place of an operation in a run, if it is the next one of its pair and can begin now.
    fn place_in_run(&self, problem: &PlanProblem, id: u32) -> Option<usize> {
        let op = &problem.ops[id as usize];
        let pair = &problem.pairs[op.pair as usize];
        let known = self.runs.iter().find(|(index, _)| *index == pair.index)?;
        (op.is_first && pair.ready <= AT_ONCE).then_some(known.1)
    }

    /// The order that stands, timed again from now. What comes first is not put off to keep a soft join window behind it.
    pub(super) fn timed<'p>(&self, problem: &'p PlanProblem) -> Option<Timetable<'p>> {
        let order = self.order(problem);
        let mut held: Vec<bool> = problem.ops.iter().map(Op::can_be_held).collect();
        let free = Timetable::new(problem, &order, &[]);
        for id in order.iter().take(problem.workers) {
            held[*id as usize] = false;
        }
        let kept = Timetable::new(problem, &order, &held);
        match (free, kept) {
            (Some(free), Some(kept)) if kept.value().cost() < free.value().cost() => Some(kept),
            (free, kept) => free.or(kept),
        }
    }

    /// The same, with work brought forward into the time in which everything else has to wait, as far as that is no worse in
    /// all. Nobody is idle only because the order stands.
    fn timed_without_idling<'p>(&self, problem: &'p PlanProblem) -> Option<Timetable<'p>> {
        let mut best = self.timed(problem)?;
        let opens = problem.calendar.fit(0, 1, 0).start;
        for _ in 0..problem.pairs.len() {
            let spots = best.schedule().spots;
            let idle = spots
                .iter()
                .map(|spot| spot.start)
                .min()
                .is_some_and(|start| start - opens > AT_ONCE);
            let brought_forward = idle.then(|| self.brought_forward(problem, &best)).flatten();
            let Some(better) = brought_forward else { break };
            best = better;
        }
        Some(best)
    }

    /// The cheapest order that begins with operations of one set-up that can begin now, if it is cheaper. Several of them share
    /// the set-ups that going to and fro costs.
    fn brought_forward<'p>(&self, problem: &'p PlanProblem, best: &Timetable<'p>) -> Option<Timetable<'p>> {
        let order = best.order();
        let can_begin = |id: &u32| {
            let op = &problem.ops[*id as usize];
            op.is_first && problem.pairs[op.pair as usize].ready <= AT_ONCE
        };
        let able: Vec<u32> = order.iter().copied().filter(can_begin).collect();
        let setups: BTreeSet<u32> = able.iter().map(|id| problem.ops[*id as usize].setup).collect();
        let mut front = Vec::with_capacity(able.len());
        let mut cheapest: Option<Timetable<'p>> = None;
        for setup in setups {
            front.clear();
            for id in able.iter().filter(|id| problem.ops[**id as usize].setup == setup) {
                front.push(*id);
                let rest = order.iter().filter(|other| !front.contains(other));
                let tried: Vec<u32> = front.iter().chain(rest).copied().collect();
                let Some(tried) = Timetable::new(problem, &tried, &best.holds) else {
                    continue;
                };
                let least = cheapest.as_ref().unwrap_or(best).value().cost();
                if tried.value().cost() < least {
                    cheapest = Some(tried);
                }
            }
        }
        cheapest
    }

    /// Notes in the problem what it costs if operations end elsewhere than in the order that stands. Returns that order; `None` if
    /// it cannot be timed.
    pub(super) fn note(&self, problem: &mut PlanProblem, now: i64) -> Option<StandingOrder> {
        let timed = self.timed_without_idling(problem)?;
        let schedule = timed.schedule();
        let holds = timed.holds;
        let locked = self.locked(problem, &schedule.spots);
        for at in 0..problem.pairs.len() {
            let pair = problem.pairs[at];
            for (id, known) in (pair.first_op..=pair.last_op).zip(&self.starts[pair.index]) {
                let op = &mut problem.ops[id as usize];
                let end = schedule.spots[id as usize].end;
                if known.is_none() || end >= problem.calendar.overflow {
                    continue;
                }
                let done = end + op.wait + now;
                let counts = op.is_last && end < NEXT_WEEK;
                op.place = KeptPlace {
                    end,
                    per_minute: per_minute(end) * self.weight / USUAL_WEIGHT,
                    day: done - done.rem_euclid(DAY) - now,
                    other_day: if counts {
                        OTHER_DAY * self.weight / USUAL_WEIGHT
                    } else {
                        0
                    },
                    later: if locked.contains(&id) { self.top.cost() } else { 0 },
                };
            }
        }
        Some(StandingOrder {
            order: schedule.order,
            holds,
        })
    }

    /// The operations that each worker does now, and the next ones of the pairs of the run; none if nothing of that can
    /// begin as soon as the shop is open, because it still dries or no longer fits before closing.
    fn locked(&self, problem: &PlanProblem, spots: &[Spot]) -> Vec<u32> {
        let opens = problem.calendar.fit(0, 1, 0).start;
        let begins = |id: u32| spots[id as usize].start - opens <= AT_ONCE;
        let first_on = |worker: usize| {
            let ids = 0..spots.len() as u32;
            let on = ids.filter(|id| spots[*id as usize].worker as usize == worker);
            on.min_by_key(|id| (spots[*id as usize].start, *id))
        };
        let mut locked: Vec<u32> = (0..problem.workers)
            .filter_map(first_on)
            .filter(|id| begins(*id))
            .collect();
        let is_in_run = |index| self.runs.iter().any(|(known, _)| *known == index);
        let in_run = problem.pairs.iter().filter(|pair| is_in_run(pair.index));
        let run: Vec<u32> = in_run.map(|pair| pair.first_op).collect();
        if run.iter().any(|id| begins(*id)) {
            locked.extend(run);
        }
        locked
    }
}

/// The starts of a pair's operations, those that are not known filled in between the known ones, in order.
fn filled(known: &[Option<i64>]) -> Vec<i64> {
    let mut starts = Vec::with_capacity(known.len());
    let mut next = i64::MAX;
    for start in known.iter().rev() {
        next = start.map_or(next, |start| start.min(next));
        starts.push(next);
    }
    starts.reverse();
    for at in 1..starts.len() {
        if starts[at] == i64::MAX {
            starts[at] = starts[at - 1];
        }
    }
    starts
}

/// When the operations of a pair would begin if they followed each other without a break, from `now` on.
fn soonest<'p>(problem: &'p PlanProblem, pair: &PairData, now: i64) -> impl Iterator<Item = i64> + use<'p> {
    let mut next = now + pair.ready;
    (pair.first_op..=pair.last_op).map(move |id| {
        let (op, start) = (&problem.ops[id as usize], next);
        next += op.minutes + op.wait;
        start
    })
}

/// The order that stands, and the soft join windows that are kept in it.
pub(super) struct StandingOrder {
    pub(super) order: Vec<u32>,
    /// For each operation, whether the soft join window behind it is kept.
    pub(super) holds: Vec<bool>,
}

impl Top {
    /// In weighted minutes late.
    fn cost(self) -> u64 {
        match self {
            Self::Free => 0,
            Self::Margin(minutes) => minutes,
            Self::Locked => LOCKED,
        }
    }
}

fn per_minute(end: i64) -> u64 {
    let reaches = [NEXT_HOURS, NEXT_DAY, NEXT_WEEK].into_iter().zip(PER_MINUTE);
    reaches
        .into_iter()
        .find(|(until, _)| end <= *until)
        .map_or(0, |(_, cost)| cost)
}
