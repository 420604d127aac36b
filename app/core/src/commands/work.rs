//! Work at the bench: photographs, steps, waits, corrections.

use serde_json::Value;
use shared::log::body::OperationCode;
use shared::log::body::{
    Agreed, Erased, Measured, Order, Photo, PutBack, Redo, Retracted, Side, Skipped, Spent, Step, Wait,
    WaitOver, field,
};
use shared::log::fold::{Details, Item, JobLine, JobState, bench};
use shared::log::{Body, EntryId, Subject, SubjectId, SubjectKind};
use shared::week::RunJob;

use super::shop::set_value;
use crate::store::Saved;
use shared::log::Draft;

fn job_subject(job: SubjectId) -> Subject {
    Subject::new(SubjectKind::Job, job)
}

/// A draft about a job that replaces nothing.
pub(super) fn on_job(job: SubjectId, body: Body) -> Draft {
    Draft::new(job_subject(job), body)
}

/// A photograph of a job.
pub fn photo(job: SubjectId, photo: Photo) -> Draft {
    on_job(job, Body::Photo(photo))
}

/// An operation done on a shoe, for this agreed line if it is known.
fn step(job: SubjectId, operation: &str, side: Side, line: Option<EntryId>) -> Draft {
    let step = Step {
        operation: operation.into(),
        side,
        note: String::new(),
        minutes: None,
        used: Vec::new(),
        line,
        cement: None,
    };
    on_job(job, Body::Step(step))
}

/// An operation done, for its first line that is still open, on the shoe on which that line is agreed.
pub fn step_done(job: SubjectId, state: &JobState, operation: &str) -> Draft {
    let line = bench::line_of(state, operation);
    let side = line.map_or(Side::Both, |line| line.body.side.clone());
    step(job, operation, side, line.map(|line| line.entry))
}

/// The same, from the line that lists show of a job.
fn step_listed(job: &JobLine, operation: &str) -> Draft {
    let line = job.lines.get(operation).copied();
    step(job.id, operation, job.side_of(operation), line)
}

/// The next operation of each of these jobs as a step. Jobs with nothing left are skipped.
pub fn next_steps<'a>(jobs: impl IntoIterator<Item = &'a JobLine>) -> Vec<Draft> {
    jobs.into_iter()
        .filter_map(|job| {
            let next = job.left.first()?;
            Some(step_listed(job, next))
        })
        .collect()
}

/// The steps of a run: the operation of each job or, where only a first part of it is done, the wait that follows. A final check is not
/// an operation.
pub fn run_done<'a>(run: impl IntoIterator<Item = (&'a RunJob, &'a JobLine)>) -> Vec<Draft> {
    let working = run
        .into_iter()
        .filter_map(|(one, job)| Some((one, one.operation.as_deref()?, job)));
    let drafts = working.flat_map(|(one, operation, job)| {
        let done = (!one.coat).then(|| step_listed(job, operation));
        let dries = (one.wait_min > 0)
            .then(|| wait(one.job, Wait::drying(one.wait_min, operation, one.dries.clone())));
        [done, dries]
    });
    drafts.flatten().collect()
}

/// Puts a job before all others, or ends that. `None` if nothing would change.
pub fn first(job: SubjectId, state: &JobState, first: bool) -> Option<Draft> {
    if state.is_first() == first {
        return None;
    }
    set_value(job_subject(job), &state.details, field::FIRST, Value::Bool(first))
}

/// Skips an operation: its first line that is still open.
pub fn skip(job: SubjectId, state: &JobState, operation: &str) -> Draft {
    let skipped = Skipped {
        line: bench::line_of(state, operation).map(|line| line.entry),
        operation: operation.into(),
        note: String::new(),
    };
    on_job(job, Body::Skipped(skipped))
}

/// Agrees on further work, as a line of its own.
pub fn agree(job: SubjectId, agreed: Agreed) -> Draft {
    on_job(job, Body::Agreed(agreed))
}

/// Marks a step as to be made again, with the material that was cut or used twice; empty if there was none.
pub fn redo(job: SubjectId, step: EntryId, scrap: &str) -> Draft {
    let scrap = scrap.trim().to_owned();
    on_job(job, Body::Redo(Redo { step, scrap }))
}

/// Moves the operation at `from` one place forward in the order. `None` if it is already the next one.
pub fn sooner(job: SubjectId, state: &JobState, from: usize) -> Option<Draft> {
    let mut operations: Vec<OperationCode> = bench::remaining(state)
        .into_iter()
        .map(OperationCode::from)
        .collect();
    let before = from.checked_sub(1).filter(|_| from < operations.len())?;
    operations.swap(before, from);
    let former = state
        .order
        .as_ref()
        .map(|slot| slot.entries())
        .unwrap_or_default();
    Some(on_job(job, Body::Order(Order { operations })).over(former))
}

/// Records afterwards what a step took.
pub fn spent(job: SubjectId, spent: Spent) -> Draft {
    on_job(job, Body::Spent(spent))
}

/// The earlier records of what a step took, which a new one names in `over`.
pub fn spent_before(state: &JobState, step: EntryId) -> Vec<EntryId> {
    let before = state.spent.iter().filter(|item| item.body.step == step);
    before.map(|item| item.entry).collect()
}

/// Begins a wait.
pub fn wait(job: SubjectId, wait: Wait) -> Draft {
    on_job(job, Body::Wait(wait))
}

/// Ends a wait.
pub fn wait_over(job: SubjectId, wait: EntryId) -> Draft {
    on_job(job, Body::WaitOver(WaitOver { wait }))
}

/// Puts a part back in its place.
pub fn put_back(job: SubjectId, out: EntryId) -> Draft {
    on_job(job, Body::PutBack(PutBack { out }))
}

/// Records the inputs and the answer of a helper. It replaces what the helper recorded before for the same operation
/// and, if named, the same part and shoe.
pub fn measured(job: SubjectId, state: &JobState, measured: Measured) -> Draft {
    let of = |one: &Measured| ["part", "side"].map(|name| one.given.get(name).cloned());
    let same = |item: &&Item<Measured>| {
        let told = &item.body;
        (&told.what, &told.operation, of(told)) == (&measured.what, &measured.operation, of(&measured))
    };
    let over = state
        .measured
        .iter()
        .filter(same)
        .map(|item| item.entry)
        .collect();
    on_job(job, Body::Measured(measured)).over(over)
}

/// Hides an entry of a subject; the entries it replaced show again.
pub fn undo(subject: Subject, entry: EntryId) -> Draft {
    Draft::new(subject, Body::Retracted(Retracted { entry }))
}

/// Hides all entries of one save.
pub fn undo_all(saved: &Saved) -> Vec<Draft> {
    let entries = saved.entries.iter().map(|held| &held.entry);
    entries
        .map(|entry| undo(entry.subject.clone(), entry.id))
        .collect()
}

/// Destroys a photograph for good, full picture and thumbnail, wherever this syncs.
pub fn destroy(job: SubjectId, full: &str, thumb: &str) -> Vec<Draft> {
    let erased = |hash: &str| {
        let blob = Some(hash.to_owned());
        on_job(job, Body::Erased(Erased { blob }))
    };
    // For a tiny picture, both can be the same blob.
    let small = (thumb != full).then(|| erased(thumb));
    std::iter::once(erased(full)).chain(small).collect()
}

/// Moves a photograph to another job: hides it in one and adds it to the other, in one save.
pub fn move_photo(from: SubjectId, item: &Item<Photo>, to: SubjectId) -> Vec<Draft> {
    vec![undo(job_subject(from), item.entry), photo(to, item.body.clone())]
}

/// The same for a photograph of a step, which becomes one of an operation of the other job.
pub fn move_step_photo(from: SubjectId, item: &Item<Photo>, to: &JobLine) -> Vec<Draft> {
    let mut item = item.clone();
    if let Some(operation) = &item.body.operation
        && !to.agreed.contains(operation)
    {
        item.body.operation = to.left.first().or(to.agreed.last()).cloned();
    }
    move_photo(from, &item, to.id)
}

/// Sets a plain field, replacing the values that this device knows. `None` if nothing would change.
pub fn set(subject: Subject, details: &Details, field: &str, text: &str) -> Option<Draft> {
    let text = text.trim();
    if details.text(field).unwrap_or_default() == text {
        return None;
    }
    set_value(subject, details, field, text.into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use shared::log::body::{Blob, Shows};
    use shared::log::fold::Slot;
    use shared::log::{MadeAt, UnixMs};
    use shared::price::minor::Minor;
    use uuid::Uuid;

    fn subject(n: u128) -> SubjectId {
        SubjectId(Uuid::from_u128(n))
    }

    fn item<T>(n: u128, body: T) -> Item<T> {
        Item {
            entry: EntryId(Uuid::from_u128(n)),
            at: MadeAt {
                utc: UnixMs(0),
                offset_min: 0,
            },
            person: None,
            body,
        }
    }

    fn agreed(operations: &[&str]) -> JobState {
        let line = |(n, code): (usize, &&str)| {
            shared::log::fold::AgreedLine::of(item(n as u128, Agreed::at(*code, Minor::ZERO)))
        };
        JobState {
            agreed: operations.iter().enumerate().map(line).collect(),
            ..JobState::default()
        }
    }

    fn line(n: u128, agreed: &[&str], left: &[&str]) -> JobLine {
        let blank = serde_json::json!({ "id": Uuid::from_u128(n), "opened_at": 0, "open": true });
        let mut job: JobLine = serde_json::from_value(blank).expect("a job line");
        job.agreed = agreed.iter().map(|code| (*code).into()).collect();
        job.left = left.iter().map(|code| (*code).into()).collect();
        job
    }

    #[test]
    fn done_for_these_is_the_next_operation_of_each_that_has_one() {
        let mut jobs = [
            line(1, &[], &["half_sole", "edge_trim_ink"]),
            line(2, &[], &[]),
            line(3, &[], &["stretch"]),
        ];
        jobs[2].one_shoe.insert("stretch".into(), Side::Left);
        let drafts = next_steps(&jobs);
        let steps: Vec<_> = drafts
            .iter()
            .filter_map(|draft| match &draft.body {
                Body::Step(step) => Some((draft.subject.id, step.operation.as_str(), step.side.clone())),
                _ => None,
            })
            .collect();
        assert_eq!(
            steps,
            [
                (subject(1), "half_sole", Side::Both),
                (subject(3), "stretch", Side::Left)
            ]
        );
    }

    #[test]
    fn sooner_swaps_with_the_one_before_and_replaces_the_former_order() {
        let mut state = agreed(&["half_sole", "stretch", "edge_trim_ink"]);
        let former = Order {
            operations: vec!["stretch".into()],
        };
        state.order = Some(Slot {
            current: item(9, former),
            rivals: Vec::new(),
        });
        // The order now: stretch, half soles, edges.
        let draft = sooner(subject(1), &state, 2).expect("there is one before it");
        assert_eq!(draft.over, [EntryId(Uuid::from_u128(9))]);
        let Body::Order(order) = draft.body else {
            panic!("not an order")
        };
        assert_eq!(order.operations, ["stretch", "edge_trim_ink", "half_sole"]);
        assert!(sooner(subject(1), &state, 0).is_none());
        assert!(sooner(subject(1), &state, 3).is_none());
    }

    #[test]
    fn a_moved_photograph_goes_under_an_operation_of_the_pair_it_shows() {
        let blob = Blob {
            sha256: "0".into(),
            media_type: "image/jpeg".into(),
            bytes: 1,
            width: 1,
            height: 1,
        };
        let of = |operation: Option<&str>| {
            let mut photo = Photo::new(blob.clone(), blob.clone(), Shows::Step);
            photo.operation = operation.map(OperationCode::from);
            item(5, photo)
        };
        let operation = |from: Option<&str>, to: &JobLine| {
            let drafts = move_step_photo(subject(1), &of(from), to);
            match &drafts[1].body {
                Body::Photo(photo) => photo.operation.clone(),
                other => panic!("not a photograph: {other:?}"),
            }
        };
        let both = line(2, &["half_sole", "stretch"], &["stretch"]);
        assert_eq!(operation(Some("half_sole"), &both).as_deref(), Some("half_sole"));
        assert_eq!(operation(Some("rewelt"), &both).as_deref(), Some("stretch"));
        assert_eq!(operation(None, &both), None);
    }

    #[test]
    fn a_run_done_is_steps_and_what_dries_and_a_coat_is_no_step() {
        let one = |n: u128, operation: &str, coat, wait_min| RunJob {
            job: SubjectId(Uuid::from_u128(n)),
            operation: OperationCode::if_any(operation),
            coat,
            wait_min,
            dries: coat.then(|| "cement_touch_dry".to_owned()),
        };
        let run = [
            one(1, "half_sole", true, 10),
            one(2, "edge_trim_ink", false, 25),
            one(3, "sole_off", false, 0),
            one(4, "", false, 0),
        ];
        let mut lines = [1, 2, 3, 4].map(|n| line(n, &[], &[]));
        lines[2].one_shoe.insert("sole_off".into(), Side::Right);
        let said: Vec<(u128, String)> = run_done(run.iter().zip(&lines))
            .iter()
            .map(|draft| {
                let what = match &draft.body {
                    Body::Step(step) => ["done ", &step.operation, step.side.after()].concat(),
                    Body::Wait(wait) => format!("{} min {}", wait.minutes.unwrap_or(0), wait.note),
                    other => format!("{other:?}"),
                };
                (draft.subject.id.0.as_u128(), what)
            })
            .collect();
        let expected = [
            (1, "10 min half_sole"),
            (2, "done edge_trim_ink"),
            (2, "25 min edge_trim_ink"),
            (3, "done sole_off, right"),
        ];
        assert_eq!(said, expected.map(|(job, what)| (job, what.to_owned())));
    }

    #[test]
    fn a_skip_is_of_the_line_that_is_still_open() {
        let mut state = agreed(&["zip_replacement", "zip_replacement"]);
        let line = |state: &JobState| match skip(subject(1), state, "zip_replacement").body {
            Body::Skipped(skipped) => skipped.line.map(|line| line.0.as_u128()),
            other => panic!("not a skip: {other:?}"),
        };
        assert_eq!(line(&state), Some(0));
        let Body::Skipped(first) = skip(subject(1), &state, "zip_replacement").body else {
            panic!("not a skip");
        };
        state.skipped.push(item(9, first));
        assert_eq!(line(&state), Some(1));
        assert_eq!(bench::remaining(&state), ["zip_replacement"]);
    }

    #[test]
    fn first_is_written_only_where_it_changes() {
        let job = SubjectId(Uuid::from_u128(1));
        assert!(first(job, &JobState::default(), true).is_some());
        assert!(first(job, &JobState::default(), false).is_none());
    }
}
