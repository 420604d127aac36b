//! Where one operation can be placed: the earliest end, with a look ahead at the operations that must follow it.

use crate::plan::calendar::CalendarFit;
use crate::plan::problem::{PlanProblem, Spot, WorkerState};

impl PlanProblem {
    /// Whether the join window behind an operation is to be kept: a hard one always, a soft one if `holds` says so.
    #[inline]
    pub(in crate::plan) fn is_kept(&self, id: u32, holds: &[bool]) -> bool {
        self.ops[id as usize].hard || holds.get(id as usize).is_some_and(|hold| *hold)
    }

    /// The earliest start for an operation of so many minutes after which the calendar lets the next operations follow
    /// within the join windows that are to be kept.
    #[inline]
    pub(in crate::plan) fn settle(
        &self,
        id: u32,
        from: i64,
        minutes: i64,
        hint: u32,
        holds: &[bool],
    ) -> CalendarFit {
        if self.is_kept(id, holds) {
            self.settle_joined(id, from, minutes, hint, holds)
        } else {
            self.calendar.fit(from, minutes, hint)
        }
    }

    fn settle_joined(&self, id: u32, mut from: i64, minutes: i64, hint: u32, holds: &[bool]) -> CalendarFit {
        let op = &self.ops[id as usize];
        loop {
            let fit = self.calendar.fit(from, minutes, hint);
            let end = fit.start + minutes;
            let next = &self.ops[id as usize + 1];
            // A set-up could move the operation after the next one into another window: the look ahead ends here.
            let following = if next.setup_minutes == 0 {
                self.settle(id + 1, end + op.wait, next.minutes, fit.window, holds)
            } else {
                self.calendar.fit(end + op.wait, next.minutes, fit.window)
            };
            // In the overflow window everything can follow at once.
            if following.start <= end + op.join || fit.start >= self.calendar.overflow {
                return fit;
            }
            from = (following.start - op.join - minutes).max(fit.start + 1);
        }
    }

    /// When an operation placed at `spot` has to start so that it ends no earlier than `end`. After `limit`, the latest
    /// start without reheating, it takes longer and needs to be moved less.
    pub(in crate::plan) fn start_for(&self, id: u32, spot: Spot, end: i64, limit: i64) -> i64 {
        let least = end - (spot.end - spot.start);
        if spot.start <= limit && least > limit {
            (least - self.ops[id as usize].rejoin).max(limit + 1)
        } else {
            least
        }
    }

    /// The earliest end of an operation over all workers; of equal ends, on the worker with less set-up and idle time.
    /// `after` is the earliest start that its pair allows, `limit` the latest start with which the join window before
    /// it is not missed. If that join window must be kept, the caller checks it; otherwise missing it adds the
    /// reheating.
    #[inline]
    pub(in crate::plan) fn place(
        &self,
        id: u32,
        workers: &[WorkerState],
        (after, limit): (i64, i64),
        kept: bool,
        holds: &[bool],
    ) -> Spot {
        let mut best = Spot {
            end: i64::MAX,
            ..Spot::default()
        };
        let mut suits = (i64::MAX, 0);
        for (index, worker) in workers.iter().enumerate() {
            let (spot, setting_up) = self.place_on(id, worker, (after, limit), kept, holds);
            // Less set-up, then the shorter idle time before it.
            let suit = (setting_up, -worker.free);
            if (spot.end, suit) < (best.end, suits) {
                best = Spot {
                    worker: index as u32,
                    ..spot
                };
                suits = suit;
            }
        }
        best
    }

    /// The same on one worker, with the minutes of set-up.
    #[inline]
    pub(in crate::plan) fn place_on(
        &self,
        id: u32,
        worker: &WorkerState,
        (after, limit): (i64, i64),
        kept: bool,
        holds: &[bool],
    ) -> (Spot, i64) {
        let op = &self.ops[id as usize];
        let from = after.max(worker.free);
        let setting_up = op.setting_up(worker.setup);
        let mut minutes = op.minutes + setting_up;
        let mut fit = self.settle(id, from, minutes, worker.window, holds);
        if fit.start > limit && !kept {
            minutes += op.rejoin;
            // Not before the join window is missed: a longer operation can let the operation joined to it start earlier
            // than a shorter one.
            fit = self.settle(id, from.max(limit + 1), minutes, worker.window, holds);
        }
        let spot = Spot {
            start: fit.start,
            end: fit.start + minutes,
            window: fit.window,
            worker: 0,
        };
        (spot, setting_up)
    }
}
