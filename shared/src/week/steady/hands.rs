//! What the workers have in hand, and how long it takes them.

use std::collections::BTreeSet;

use super::Simulated;
use super::day30::{OPEN_MINUTES, at};
use crate::log::entry::SubjectId;
use crate::week::Run;
use crate::week::bench::{Bench, WeekInput};

/// What a worker has in hand: the job, and when it is done.
#[derive(Clone)]
pub(super) struct InHand {
    pub(super) job: SubjectId,
    pub(super) done: i64,
}

/// What a worker has in hand, and where the worker last worked.
#[derive(Clone, Default)]
pub(super) struct Hand {
    pub(super) work: Option<InHand>,
    place: Option<String>,
}

/// Each free hand takes up what the plan says, if it can begin now.
pub(super) fn take_up(one: &Simulated<'_>, hands: &mut [Hand], now: i64, given: &WeekInput<'_>) {
    let told = one.told(&WeekInput {
        now: at(now),
        ..*given
    });
    let busy: BTreeSet<SubjectId> = hands
        .iter()
        .filter_map(|hand| Some(hand.work.as_ref()?.job))
        .collect();
    let open: Vec<&Run> = told
        .runs
        .iter()
        .filter(|run| run.now && !busy.contains(&run.jobs[0].job))
        .collect();
    for (hand, run) in hands.iter_mut().filter(|hand| hand.work.is_none()).zip(open) {
        let id = run.jobs[0].job;
        let job = &one.jobs[&id];
        let now_given = WeekInput {
            now: at(now),
            ..*given
        };
        let bench = Bench::of(vec![job.clone()], &now_given);
        let chain = &bench.chains[0];
        // An operation in several pieces is done when its last one is.
        let pieces = chain.of.iter().take_while(|of| **of == chain.of[0]).count();
        let coat = run.jobs[0].coat;
        let operations = chain.pair.operations.iter().take(if coat { 1 } else { pieces });
        let expected: i64 = operations.map(|operation| i64::from(operation.minutes)).sum();
        let takes = one.day.takes(id, chain.pair.operations.len(), expected);
        let done = worked(now, besides(hand, run, &bench) + takes);
        hand.work = Some(InHand { job: id, done });
        hand.place = Some(run.place.clone());
    }
}

/// The minutes that the next work on a job takes beside the work itself: going to another station, and heating or
/// coating cement again whose open time is over.
fn besides(hand: &Hand, run: &Run, bench: &Bench) -> i64 {
    let pair = &bench.instance.pairs[0];
    let mut minutes = 0;
    if hand.place.as_ref().is_some_and(|place| *place != run.place) {
        minutes += pair.operations[0].setup_minutes;
    }
    if pair.join_by.is_some_and(|by| by < bench.instance.now) {
        minutes += pair.rejoin_minutes;
    }
    i64::from(minutes)
}

/// The minute at which so many minutes of work from `now` on are done, within the opening hours.
fn worked(now: i64, minutes: i64) -> i64 {
    let mut left = minutes;
    for [start, end] in OPEN_MINUTES {
        let from = now.max(start);
        let room = (end - from).max(0);
        if left <= room {
            return from + left;
        }
        left -= room;
    }
    540 + left
}
