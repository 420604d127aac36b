//! Why a run may be replaced by another one: what changed on a job, as a sentence. What is done as the plan says is no reason.

use super::job::Job;

/// Work that took more than so many times what was planned, and [`LONGER_BY`] minutes more, took longer. Common practice, no
/// source.
const LONGER_TIMES: i64 = 5;
const LONGER_PARTS: i64 = 4;
const LONGER_BY: i64 = 10;

/// What was under way on a job when it changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct UnderWay {
    /// Whether its next operation belongs to the run of a worker.
    pub(crate) in_run: bool,
    /// The minutes of the operation that a worker does on it now: planned, and passed so far.
    pub(crate) minutes: Option<(i64, i64)>,
}

/// The reason in the change of one job, in words; `None` if the change is none.
pub(crate) fn reason(before: Option<&Job>, after: Option<&Job>, under_way: UnderWay) -> Option<String> {
    match (before, after) {
        (None, Some(job)) => Some(came(job)),
        (Some(before), Some(after)) if before == after => Some(words::plan::is_dry(&after.tag)),
        (Some(before), Some(after)) => promised(before, after)
            .or_else(|| going_on(before, after))
            .or_else(|| worked(before, after, under_way)),
        (Some(before), None) => took_longer(before, under_way),
        (None, None) => None,
    }
}

fn came(job: &Job) -> String {
    if job.waits {
        words::plan::customer_waits(&job.tag)
    } else if job.rush {
        words::plan::came_in_rush(&job.tag)
    } else {
        words::plan::came_in(&job.tag)
    }
}

/// A change of what was promised, or of what comes first.
fn promised(before: &Job, after: &Job) -> Option<String> {
    let tag = &after.tag;
    if after.waits && !before.waits {
        return Some(words::plan::customer_waits(tag));
    }
    if after.first != before.first {
        return Some(match after.first {
            true => words::plan::put_first_by_you(tag),
            false => words::plan::no_longer_first(tag),
        });
    }
    if after.rush != before.rush || after.complaint != before.complaint {
        return Some(words::plan::wanted_otherwise(tag));
    }
    let other_day = (after.day, &after.ready_from) != (before.day, &before.ready_from);
    other_day.then(|| words::plan::promised_otherwise(tag))
}

/// A job that goes on, or is held up.
fn going_on(before: &Job, after: &Job) -> Option<String> {
    let tag = &after.tag;
    if after.put_aside != before.put_aside {
        return Some(match after.put_aside {
            Some(_) => words::plan::put_aside(tag),
            None => words::plan::taken_up_again(tag),
        });
    }
    if after.run_interrupted != before.run_interrupted {
        return Some(words::plan::interrupted().to_owned());
    }
    match (before.held, after.held) {
        (true, false) => Some(words::plan::goes_on(tag)),
        (false, true) => Some(words::plan::held_up(tag)),
        _ => None,
    }
}

/// Work and waits that are not as planned.
fn worked(before: &Job, after: &Job, under_way: UnderWay) -> Option<String> {
    let tag = &after.tag;
    let more = after.left.iter().any(|code| !before.left.contains(code));
    let done = after.left != before.left;
    if more {
        return Some(words::plan::more_to_do(tag));
    }
    if done && !under_way.in_run {
        return Some(words::plan::done_out_of_turn(tag));
    }
    if done {
        return took_longer(before, under_way);
    }
    (after.dry != before.dry && !under_way.in_run).then(|| words::plan::dries_otherwise(tag))
}

fn took_longer(job: &Job, under_way: UnderWay) -> Option<String> {
    let (planned, passed) = under_way.minutes?;
    let longer = passed * LONGER_PARTS > planned * LONGER_TIMES && passed > planned + LONGER_BY;
    longer.then(|| words::plan::took_longer(&job.tag))
}
