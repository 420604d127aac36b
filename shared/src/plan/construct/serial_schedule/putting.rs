//! Places one run: the earliest gaps that keep its join windows, and what remains of them.

use super::{AHEAD, Gap, NO_OP, SerialSchedule, Spot};
use crate::plan::problem::{NOTHING_YET, Op};
use crate::plan::value::PlanCost;

impl SerialSchedule<'_> {
    /// Places the run at `place`, and adds its cost. An operation that comes too late for the join window before it
    /// moves the operation before it later.
    pub(super) fn put(&mut self, place: usize, mut value: PlanCost) -> PlanCost {
        let (one, last) = self.runs[self.trial[place] as usize];
        let (after, limit, hint) = self.free_to_start(one);
        let mut id = one;
        let (mut floor, mut limit, first_limit) = (after, limit, limit);
        let mut hint = hint;
        loop {
            let (gap, spot) = self.find(id, (floor, limit), id == one, hint);
            if id > one && spot.start > limit {
                id -= 1;
                let before = self.tried[id as usize];
                let join = self.problem.ops[id as usize].join;
                floor = (spot.start - join - (before.end - before.start)).max(before.start + 1);
                limit = if id == one { first_limit } else { self.limit_of(id) };
                hint = if self.gaps.len() == 1 {
                    self.gap_of[id as usize]
                } else {
                    0
                };
                continue;
            }
            self.tried[id as usize] = spot;
            self.stamp[id as usize] = self.trials;
            self.gap_of[id as usize] = gap;
            if id == last {
                break;
            }
            floor = spot.end + self.filled(id, place);
            id += 1;
            limit = self.limit_of(id);
            hint = if self.gaps.len() == 1 { gap } else { 0 };
        }
        // From the last one, so that the numbers of gaps found before stay valid.
        for id in (one..=last).rev() {
            self.occupy(id);
        }
        for id in one as usize..=last as usize {
            value = value.with(self.problem, &self.problem.ops[id], self.tried[id].end);
        }
        value
    }

    /// The wait behind an operation that was just placed inside a run: longer if one of the next runs in the list fills
    /// it better.
    fn filled(&self, id: u32, place: usize) -> i64 {
        let op = &self.problem.ops[id as usize];
        if self.problem.has_setups {
            return op.wait;
        }
        let spot = self.tried[id as usize];
        let gap = self.gaps[spot.worker as usize].get(self.gap_of[id as usize]);
        let room = gap.map_or(0, |gap| gap.end - spot.end) - self.problem.ops[id as usize + 1].minutes;
        let next = self.trial[place + 1..].iter().take(AHEAD);
        let minutes = next.filter_map(|run| {
            let (one, last) = self.runs[*run as usize];
            let minutes = self.problem.ops[one as usize].minutes;
            let fits = one == last && minutes <= op.join.min(room) && self.may_start(one, spot.end);
            fits.then_some(minutes)
        });
        // The first of those that leave the least of it empty.
        let best = minutes.min_by_key(|minutes| (op.wait - minutes).max(0));
        best.map_or(op.wait, |minutes| minutes.max(op.wait))
    }

    /// Whether the first operation of a run that comes later in the list can begin by then.
    fn may_start(&self, one: u32, by: i64) -> bool {
        let op = &self.problem.ops[one as usize];
        if op.is_first {
            return self.problem.pairs[op.pair as usize].ready <= by;
        }
        let before = one as usize - 1;
        let is_put = self.stamp[before] == self.trials;
        let stands = (self.position[self.run_of[before] as usize] as usize) < self.from;
        let end = if is_put {
            self.tried[before].end
        } else {
            self.standing[before].end
        };
        (is_put || stands) && end + self.problem.ops[before].wait <= by
    }

    fn limit_of(&self, id: u32) -> i64 {
        self.tried[id as usize - 1].end + self.problem.ops[id as usize - 1].join
    }

    /// The earliest start of a run, the latest start with which the join window before it is kept, and the first gap to
    /// search.
    fn free_to_start(&self, one: u32) -> (i64, i64, usize) {
        let op = &self.problem.ops[one as usize];
        if op.is_first {
            let pair = &self.problem.pairs[op.pair as usize];
            return (pair.ready, pair.join_by, 0);
        }
        let before = one as usize - 1;
        let stamped = self.stamp[before] == self.trials;
        let end = if stamped {
            self.tried[before].end
        } else {
            self.standing[before].end
        };
        let op = &self.problem.ops[before];
        let after = end + op.wait;
        // All gaps before this one end too early.
        let hint = match self.gaps.as_slice() {
            [gaps] => {
                let near = self.gap_of[before].min(gaps.len());
                let too_soon = |gap: &Gap| gap.end < after;
                let back = gaps[..near].iter().rev().take_while(|gap| !too_soon(gap)).count();
                let from = near - back;
                from + gaps[from..].iter().take_while(|gap| too_soon(gap)).count()
            }
            _ => 0,
        };
        (after, end + op.join, hint)
    }

    fn find(&self, id: u32, times: (i64, i64), pays: bool, hint: usize) -> (usize, Spot) {
        let mut best = self.find_on(0, id, times, pays, hint);
        for worker in 1..self.gaps.len() {
            let found = self.find_on(worker, id, times, pays, 0);
            if found.1.end < best.1.end {
                best = found;
            }
        }
        best
    }

    /// The first gap that fits. Whether a missed join window costs extra minutes is known only between runs.
    fn find_on(
        &self,
        worker: usize,
        id: u32,
        (after, limit): (i64, i64),
        pays: bool,
        hint: usize,
    ) -> (usize, Spot) {
        let op = &self.problem.ops[id as usize];
        let gaps = &self.gaps[worker];
        let mut at = hint;
        while let Some(gap) = gaps.get(at) {
            let start = gap.start.max(after);
            let missed = pays && start > limit;
            if start + op.minutes <= gap.end
                && let Some(minutes) = self.fits(op, gap, missed)
                && start + minutes <= gap.end
            {
                let spot = Spot {
                    start,
                    end: start + minutes,
                    window: 0,
                    worker: worker as u32,
                };
                return (at, spot);
            }
            at += 1;
        }
        // Not reached: the last gap has no end.
        let start = after.max(self.problem.calendar.overflow);
        let spot = Spot {
            start,
            end: start + op.minutes,
            window: 0,
            worker: worker as u32,
        };
        (gaps.len().saturating_sub(1), spot)
    }

    /// The minutes that the operation takes in a gap. None if the operation behind it would need another set-up.
    #[inline]
    fn fits(&self, op: &Op, gap: &Gap, missed: bool) -> Option<i64> {
        let minutes = if missed {
            op.minutes + op.rejoin
        } else {
            op.minutes
        };
        if !self.problem.has_setups {
            return Some(minutes);
        }
        let before = self.setup(gap.before);
        if gap.after != NO_OP {
            let after = &self.problem.ops[gap.after as usize];
            if after.setting_up(op.setup) > after.setting_up(before) {
                return None;
            }
        }
        Some(minutes + op.setting_up(before))
    }

    fn setup(&self, id: u32) -> u32 {
        if id == NO_OP {
            NOTHING_YET
        } else {
            self.problem.ops[id as usize].setup
        }
    }

    /// Removes the place of an operation from its gap.
    fn occupy(&mut self, id: u32) {
        let spot = self.tried[id as usize];
        if spot.start == spot.end {
            return;
        }
        let at = self.gap_of[id as usize];
        let gaps = &mut self.gaps[spot.worker as usize];
        let Some(gap) = gaps.get(at).copied() else {
            return;
        };
        if self.problem.has_setups {
            // The gaps in other windows between the same two operations have a new neighbour.
            let between = |other: &Gap| other.before == gap.before && other.after == gap.after;
            let earlier = gaps[..at].iter_mut().rev().take_while(|other| between(other));
            earlier.for_each(|other| other.after = id);
            let later = gaps[at + 1..].iter_mut().take_while(|other| between(other));
            later.for_each(|other| other.before = id);
        }
        let left = Gap {
            end: spot.start,
            after: id,
            ..gap
        };
        let right = Gap {
            start: spot.end,
            before: id,
            ..gap
        };
        let wide = |gap: &Gap| gap.end - gap.start >= self.shortest;
        match (wide(&left), wide(&right)) {
            (true, true) => {
                gaps[at] = left;
                gaps.insert(at + 1, right);
            }
            (true, false) => gaps[at] = left,
            (false, true) => gaps[at] = right,
            (false, false) => {
                gaps.remove(at);
            }
        }
    }
}
