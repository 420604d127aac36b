//! What is left to do on a job, in which order, and what the job waits for.

use super::item::Item;
use super::job_state::JobState;
use crate::log::body::{Agreed, Answer, Outcome, Question, Side, Spent, Step, TakenOut, Wait};
use crate::log::entry::{EntryId, UnixMs};
use crate::trade::precedence::in_order;

/// The agreed lines of a job. Of a line with several versions, the last one.
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

/// The operations still to be done, next first: agreed, not skipped, and not covered by a standing step.
///
/// The order is the repairer's own as far as there is one, then the usual order of the trade.
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
    let first = chosen.filter_map(|wanted| usual.iter().copied().find(|one| wanted == one));
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

/// Whether standing steps cover an agreed line: one step on both shoes, or one step on each.
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

/// The standing steps that need not be made again.
pub fn done(job: &JobState) -> impl Iterator<Item = &Item<Step>> {
    job.steps
        .iter()
        .filter(|step| !job.redone.iter().any(|redo| redo.body.step == step.entry))
}

/// The latest [`Spent`] entry about a step.
pub fn spent_on(job: &JobState, step: EntryId) -> Option<&Spent> {
    let said = job.spent.iter().rev().find(|item| item.body.step == step)?;
    Some(&said.body)
}

/// The minutes of attended work noted for a step, with the step or afterwards; `None` where none were noted.
pub fn noted_minutes(job: &JobState, step: &Item<Step>) -> Option<u32> {
    let afterwards = spent_on(job, step.entry).and_then(|spent| spent.minutes);
    afterwards.or(step.body.minutes)
}

/// The latest answer to a question.
pub fn answer_to(job: &JobState, question: EntryId) -> Option<&Item<Answer>> {
    job.answers
        .iter()
        .rev()
        .find(|answer| answer.body.question == question)
}

/// The open questions: those that no answer has settled. The job waits for them.
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

/// Whether the pair goes back, or has gone back, as it came. Once it is handed over, the hand-over decides; until then
/// the customer's answer does.
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

/// The waits that no [`WaitOver`](crate::log::body::WaitOver) has ended. A wait with a length also ends by itself, see
/// [`ends`].
pub fn open_waits(job: &JobState) -> impl Iterator<Item = &Item<Wait>> {
    job.waits
        .iter()
        .filter(|wait| !job.waits_over.iter().any(|over| over.body.wait == wait.entry))
}

/// When a wait ends by itself; `None` if it has no length.
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
