//! Tests of the drafts of work at the bench.

use super::*;
use crate::commands::scene;
use shared::log::body::{Blob, Shows};
use shared::log::fold::{NextLine, PairState, Slot, Summary, TicketState};
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

fn on(side: Side) -> NextLine {
    NextLine::of(&item(
        7,
        Agreed {
            side,
            ..Agreed::at("stretch", Minor::ZERO)
        },
    ))
}

#[test]
fn done_for_these_is_the_next_operation_of_each_that_has_one() {
    let mut jobs = [
        line(1, &[], &["half_sole", "edge_trim_ink"]),
        line(2, &[], &[]),
        line(3, &[], &["stretch"]),
    ];
    jobs[2].next_lines.insert("stretch".into(), on(Side::Left));
    let drafts = next_steps(&jobs);
    let steps: Vec<_> = drafts
        .iter()
        .filter_map(|draft| match &draft.body {
            Body::Step(step) => Some((draft.subject.id, step.operation.as_str(), &step.side, step.line)),
            _ => None,
        })
        .collect();
    assert_eq!(
        steps,
        [
            (subject(1), "half_sole", &Side::Both, None),
            (
                subject(3),
                "stretch",
                &Side::Left,
                Some(EntryId(Uuid::from_u128(7)))
            )
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
    lines[2].next_lines.insert("sole_off".into(), on(Side::Right));
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

#[test]
fn of_two_lines_of_an_operation_a_list_names_and_notes_the_one_that_is_next() {
    let of = |side, variant: &str| Agreed {
        side,
        variant: Some(variant.to_owned()),
        ..Agreed::at("half_sole", Minor(2_600))
    };
    let mut job = scene::job(&[of(Side::Left, "leather"), of(Side::Right, "rubber")]);
    let next = |job: &JobState| {
        let life = scene::history(PairState::default(), job.clone(), TicketState::default());
        let line = Summary::of(&life).jobs.pop().expect("the job");
        let steps = next_steps([&line]);
        let Some(Body::Step(step)) = steps.first().map(|draft| draft.body.clone()) else {
            panic!("no step");
        };
        (line.name_of(&"half_sole".into()), step)
    };
    let name = shared::trade::operations::name("half_sole");
    let (left, right) = (format!("{name}, leather, left"), format!("{name}, rubber, right"));
    assert_eq!(crate::commands::not_noted(&job), format!("{left}; {right}"));
    let (said, step) = next(&job);
    assert_eq!(
        (said, &step.side, step.line),
        (left, &Side::Left, Some(scene::entry(100)))
    );
    job.steps = vec![item(20, step)];
    assert_eq!(crate::commands::not_noted(&job), right);
    let (said, step) = next(&job);
    assert_eq!(
        (said, step.side, step.line),
        (right, Side::Right, Some(scene::entry(101)))
    );
}
