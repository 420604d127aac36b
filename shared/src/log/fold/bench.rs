//! Where a job stands: what is left to do, in which order, and what holds it.

use super::item::Item;
use super::job_state::JobState;
use crate::log::body::{Agreed, Answer, Outcome, Question, Side, Spent, Step, TakenOut, Wait};
use crate::log::entry::{EntryId, UnixMs};
use crate::trade::precedence::in_order;

/// The version of an agreed line that is shown, one a line.
pub fn agreed(job: &JobState) -> impl DoubleEndedIterator<Item = &Item<Agreed>> {
    job.agreed.iter().filter_map(|line| line.versions.last())
}

/// On which shoe an operation is agreed: on one, or on both.
pub fn side_of(job: &JobState, operation: &str) -> Side {
    let mut sides = agreed(job)
        .filter(|line| line.body.operation == operation)
        .map(|line| &line.body.side);
    match sides.next() {
        Some(first) if sides.all(|side| side == first) => first.clone(),
        _ => Side::Both,
    }
}

/// The operations still to be done, next first: agreed, not skipped, and not covered by a step that stands.
///
/// The order is the repairer's own as far as they gave one, then the trade's.
pub fn remaining(job: &JobState) -> Vec<&str> {
    let open = agreed(job)
        .filter(|line| !is_skipped(job, &line.body.operation) && !is_done(job, &line.body))
        .map(|line| line.body.operation.as_str());
    let mut left: Vec<&str> = Vec::new();
    for operation in open {
        if !left.contains(&operation) {
            left.push(operation);
        }
    }
    let order = in_order(&left);
    let usual: Vec<&str> = order.into_iter().filter_map(|at| left.get(at).copied()).collect();
    let chosen = job.order.iter().flat_map(|slot| &slot.current.body.operations);
    let mut ordered: Vec<&str> = Vec::with_capacity(usual.len());
    let first = chosen.filter_map(|wanted| usual.iter().copied().find(|one| one == wanted));
    for operation in first.chain(usual.iter().copied()) {
        if !ordered.contains(&operation) {
            ordered.push(operation);
        }
    }
    ordered
}

/// Whether agreed work of this kind will not be done after all.
pub fn is_skipped(job: &JobState, operation: &str) -> bool {
    job.skipped.iter().any(|skip| skip.body.operation == operation)
}

/// Whether steps that stand cover an agreed line: on both shoes together, or on each.
fn is_done(job: &JobState, line: &Agreed) -> bool {
    let on = |side: &Side| {
        done(job).any(|step| {
            step.body.operation == line.operation && (step.body.side == *side || step.body.side == Side::Both)
        })
    };
    match line.side {
        Side::Both => on(&Side::Both) || (on(&Side::Left) && on(&Side::Right)),
        ref side => on(side),
    }
}

/// The steps that need not be made again.
pub fn done(job: &JobState) -> impl Iterator<Item = &Item<Step>> {
    job.steps
        .iter()
        .filter(|step| !job.redone.iter().any(|redo| redo.body.step == step.entry))
}

/// What was last said of what a step took.
pub fn spent_on(job: &JobState, step: EntryId) -> Option<&Spent> {
    let said = job.spent.iter().rev().find(|item| item.body.step == step)?;
    Some(&said.body)
}

/// Minutes of attended work that somebody noted for a step, with it or afterwards.
pub fn noted_minutes(job: &JobState, step: &Item<Step>) -> Option<u32> {
    let afterwards = spent_on(job, step.entry).and_then(|spent| spent.minutes);
    afterwards.or(step.body.minutes)
}

/// The last thing said to a question.
pub fn answer_to(job: &JobState, question: EntryId) -> Option<&Item<Answer>> {
    job.answers
        .iter()
        .rev()
        .find(|answer| answer.body.question == question)
}

/// The questions nobody has settled: they hold the job.
pub fn open_questions(job: &JobState) -> impl Iterator<Item = &Item<Question>> {
    job.questions.iter().filter(|question| {
        answer_to(job, question.entry).is_none_or(|answer| {
            !matches!(
                answer.body.outcome,
                Outcome::Yes | Outcome::No | Outcome::ReturnUnrepaired
            )
        })
    })
}

/// Whether the pair goes back as it came, or has done so: once it was handed over, how it was handed over decides, and
/// until then what the customer answered.
pub fn goes_back_unrepaired(job: &JobState) -> bool {
    match &job.handed_over {
        Some(over) => over.current.body.unrepaired,
        None => returns_unrepaired(job),
    }
}

/// Whether the customer wants the pair back as it is.
pub fn returns_unrepaired(job: &JobState) -> bool {
    job.questions.iter().any(|question| {
        answer_to(job, question.entry).is_some_and(|answer| answer.body.outcome == Outcome::ReturnUnrepaired)
    })
}

/// The waits nobody has ended. One with a time ends by itself.
pub fn open_waits(job: &JobState) -> impl Iterator<Item = &Item<Wait>> {
    job.waits
        .iter()
        .filter(|wait| !job.waits_over.iter().any(|over| over.body.wait == wait.entry))
}

/// When a wait ends by itself.
pub fn ends(wait: &Item<Wait>) -> Option<UnixMs> {
    let minutes = wait.body.minutes?;
    Some(UnixMs(wait.at.utc.0 + i64::from(minutes) * 60_000))
}

/// The parts that are out and must go back in.
pub fn parts_out(job: &JobState) -> impl Iterator<Item = &Item<TakenOut>> {
    job.taken_out
        .iter()
        .filter(|out| !job.put_back.iter().any(|back| back.body.out == out.entry))
}
