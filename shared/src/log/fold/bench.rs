//! What is left to do on a job, in which order, and what the job waits for.

use std::collections::BTreeMap;

use super::item::{AgreedLine, Item};
use super::job_state::JobState;
use crate::log::body::{
    Agreed, Answer, KeptFor, OperationCode, Outcome, PutBack, Question, Side, Spent, Step, TakenOut, Wait,
};
use crate::log::entry::{EntryId, UnixMs};
use crate::log::inserted;
use crate::text::unless_empty;
use crate::trade::amount::{USUAL_AMOUNT, amount_percent};
use crate::trade::precedence::in_order;
use crate::trade::step_name;

/// The agreed lines of a job. Of a line with several versions, the last one.
pub fn agreed(job: &JobState) -> impl DoubleEndedIterator<Item = &Item<Agreed>> {
    job.agreed.iter().filter_map(AgreedLine::last)
}

/// The agreed lines that are to be done or were done: those that were not skipped.
pub fn kept(job: &JobState) -> impl DoubleEndedIterator<Item = &Item<Agreed>> {
    let kept = job.agreed.iter().filter(|line| !is_skipped(job, line));
    kept.filter_map(AgreedLine::last)
}

/// The agreed lines that are still to be done: not skipped, and not covered by a standing step.
pub fn open_lines(job: &JobState) -> impl Iterator<Item = &Item<Agreed>> {
    let open = job
        .agreed
        .iter()
        .filter(|line| !is_skipped(job, line) && !is_done(job, line));
    open.filter_map(AgreedLine::last)
}

/// The first open line of an operation, else its first line: what a new step of that operation is done for.
pub fn line_of<'a>(job: &'a JobState, operation: &str) -> Option<&'a Item<Agreed>> {
    let mut open = open_lines(job).filter(|line| line.body.operation == operation);
    open.next()
        .or_else(|| agreed(job).find(|line| line.body.operation == operation))
}

/// The line that a step was done for: the one that it names; of a step that names none, the only line of its operation.
/// `None` if there is no such line.
pub fn line_of_step<'a>(job: &'a JobState, step: &Step) -> Option<&'a Item<Agreed>> {
    let of_operation = |line: &&AgreedLine| {
        line.last()
            .is_some_and(|line| line.body.operation == step.operation)
    };
    let mut lines = job.agreed.iter().filter(of_operation);
    let line = match step.line {
        Some(named) => lines.find(|line| line.is_named(named)),
        None => lines.next().filter(|_| lines.next().is_none()),
    };
    line?.last()
}

/// A step as the shop calls it: the agreed line that it was done for, on the shoe of the step.
pub fn name_of_step(job: &JobState, step: &Step) -> String {
    step_name(step, line_of_step(job, step).map(|line| &line.body))
}

/// The open lines in the order in which they are to be done, see [`remaining`]; lines of one operation in the order in
/// which they were agreed.
pub fn open_lines_in_order(job: &JobState) -> impl Iterator<Item = &Item<Agreed>> {
    remaining(job)
        .into_iter()
        .flat_map(move |operation| open_lines(job).filter(move |line| line.body.operation == operation))
}

/// The operations still to be done, next first: agreed, not skipped, and not covered by a standing step.
///
/// The order is the repairer's own as far as there is one, then the usual order of the trade.
pub fn remaining(job: &JobState) -> Vec<&str> {
    let mut left: Vec<&str> = Vec::new();
    for operation in open_lines(job).map(|line| line.body.operation.as_str()) {
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

/// Of these operations, those whose open lines are more or less than the usual work on a pair, with the amount in percent.
pub fn amounts(job: &JobState, left: &[&str]) -> BTreeMap<OperationCode, u32> {
    let amount = |code: &&str| {
        let lines = open_lines(job).filter(|line| line.body.operation == **code);
        let percent = lines.map(|line| amount_percent(&line.body)).sum();
        (OperationCode::from(*code), percent)
    };
    let all = left.iter().map(amount);
    inserted(all.filter(|(_, percent)| *percent != USUAL_AMOUNT))
}

/// Of these operations, those of which a standing step names its cement, with that of the latest such step.
pub fn cements(job: &JobState, left: &[&str]) -> BTreeMap<OperationCode, String> {
    let named = |code: &&str| {
        let steps = done(job).filter(|step| step.body.operation == **code);
        let cement = steps.filter_map(|step| cement_of(job, step)).last()?;
        Some((OperationCode::from(*code), cement.to_owned()))
    };
    inserted(left.iter().filter_map(named))
}

/// Whether an agreed line will not be done after all: it was skipped itself, or every line of its operation was.
pub fn is_skipped(job: &JobState, line: &AgreedLine) -> bool {
    let operation = line.last().map(|line| &line.body.operation);
    job.skipped.iter().any(|skip| match skip.body.line {
        Some(named) => line.is_named(named),
        None => Some(&skip.body.operation) == operation,
    })
}

/// Whether standing steps cover an agreed line: one step on both shoes, or one step on each. A step that names a line
/// covers no other one.
fn is_done(job: &JobState, line: &AgreedLine) -> bool {
    let Some(Item { body, .. }) = line.last() else {
        return true;
    };
    let for_it = |step: &Step| step.line.is_none_or(|named| line.is_named(named));
    let on = |side: &Side| {
        done(job).any(|step| {
            let step = &step.body;
            step.operation == body.operation
                && for_it(step)
                && (step.side == *side || step.side == Side::Both)
        })
    };
    match body.side {
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

/// The standing [`Spent`] entries about a step, the latest first: several only if two devices wrote one each.
fn spent_about(job: &JobState, step: EntryId) -> impl Iterator<Item = &Spent> {
    let about = job.spent.iter().rev().filter(move |item| item.body.step == step);
    about.map(|item| &item.body)
}

/// The latest [`Spent`] entry about a step.
pub fn spent_on(job: &JobState, step: EntryId) -> Option<&Spent> {
    spent_about(job, step).next()
}

/// The minutes of attended work noted for a step, with the step or afterwards; `None` where none were noted.
pub fn noted_minutes(job: &JobState, step: &Item<Step>) -> Option<u32> {
    let afterwards = spent_about(job, step.entry).find_map(|spent| spent.minutes);
    afterwards.or(step.body.minutes)
}

/// The cement of a step, as it was named with the step or afterwards; `None` where none was named.
pub fn cement_of<'a>(job: &'a JobState, step: &'a Item<Step>) -> Option<&'a str> {
    let afterwards = spent_about(job, step.entry).find_map(|spent| spent.cement.as_deref());
    let cement = afterwards.or(step.body.cement.as_deref());
    cement.and_then(unless_empty)
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

/// How often a wait for the same operation with the same thing drying was noted since the last step on the job.
pub fn times_noted(job: &JobState, wait: &Wait) -> u32 {
    let since = job.steps.iter().map(|step| step.at.utc).max();
    let same = job.waits.iter().filter(|item| {
        item.body.note == wait.note
            && item.body.dries == wait.dries
            && since.is_none_or(|since| item.at.utc > since)
    });
    u32::try_from(same.count()).unwrap_or(u32::MAX)
}

/// The parts that are out and must go back in.
pub fn parts_out(job: &JobState) -> impl Iterator<Item = &Item<TakenOut>> {
    still_out(job).filter(|out| out.body.kept_for != Some(KeptFor::Customer))
}

/// The parts that are kept for the customer, who gets them with the finished pair.
pub fn parts_for_customer(job: &JobState) -> impl Iterator<Item = &Item<TakenOut>> {
    still_out(job).filter(|out| out.body.kept_for == Some(KeptFor::Customer))
}

/// The parts that were taken off and are back in their place, each with the entry that says so; with the first one, if
/// several do.
pub fn parts_put_back(job: &JobState) -> impl Iterator<Item = (&Item<TakenOut>, &Item<PutBack>)> {
    let taken_out = job.taken_out.iter();
    taken_out.filter_map(move |out| Some((out, back_in_place(job, out)?)))
}

fn still_out(job: &JobState) -> impl Iterator<Item = &Item<TakenOut>> {
    let taken_out = job.taken_out.iter();
    taken_out.filter(move |out| back_in_place(job, out).is_none())
}

/// The entry that says that a part is back in its place.
fn back_in_place<'a>(job: &'a JobState, out: &Item<TakenOut>) -> Option<&'a Item<PutBack>> {
    job.put_back.iter().find(|back| back.body.out == out.entry)
}
