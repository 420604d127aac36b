//! Tests of what is left to do on a job, and what the job waits for.

use crate::support::{agreed, entry, entry_id, pair, retracted};
use proptest::prelude::*;
use shared::log::body::{
    Agreed, Answer, Body, Order, Outcome, PutBack, Question, Redo, Side, Skipped, Step, TakenOut, Wait,
    WaitFor, WaitOver,
};
use shared::log::fold::{JobState, bench};
use shared::log::{EntryId, ReceivedEntry, UnixMs};
use shared::price::minor::Minor;
use shared::trade::{line_name, operations};

/// The state of a job with these entries, made one after the other; entry n is the n-th one, from 0.
fn state(bodies: &[Body]) -> JobState {
    let held: Vec<_> = (0..)
        .zip(bodies)
        .map(|(n, body)| ReceivedEntry::unsent(entry(n, pair(1), 10 + i64::from(n), 0, body)))
        .collect();
    JobState::of(&held)
}

fn step_body(operation: &str, side: Side) -> Step {
    Step {
        cement: None,
        line: None,
        operation: operation.into(),
        side,
        note: String::new(),
        minutes: None,
        used: Vec::new(),
    }
}

fn step(operation: &str, side: Side) -> Body {
    Body::Step(step_body(operation, side))
}

#[test]
fn what_is_done_on_each_shoe_is_done() {
    let lines = [agreed("half_sole", 4200), agreed("clean_condition_polish", 900)];
    let left = |more: &[Body]| -> Vec<String> {
        let all: Vec<_> = lines.iter().chain(more).cloned().collect();
        bench::remaining(&state(&all))
            .into_iter()
            .map(str::to_owned)
            .collect()
    };
    assert_eq!(left(&[]), ["half_sole", "clean_condition_polish"]);
    assert_eq!(
        left(&[step("half_sole", Side::Left)]).len(),
        2,
        "the right one is still to do"
    );
    assert_eq!(
        left(&[step("half_sole", Side::Left), step("half_sole", Side::Right)]),
        ["clean_condition_polish"]
    );
    assert_eq!(left(&[step("half_sole", Side::Both)]), ["clean_condition_polish"]);
}

/// A pair whose left shoe gets leather and whose right shoe gets rubber.
fn two_half_soles() -> [Body; 2] {
    [(Side::Left, "leather"), (Side::Right, "rubber")].map(|(side, variant)| {
        Body::Agreed(Agreed {
            side,
            variant: Some(variant.to_owned()),
            ..Agreed::at("half_sole", Minor(2600))
        })
    })
}

/// "Done" on the Bench records a step of the next line, on its shoe and not on both.
#[test]
fn of_two_lines_of_an_operation_each_is_next_in_its_turn_under_its_own_name() {
    let lines = two_half_soles();
    let next = |bodies: &[Body]| {
        let job = state(bodies);
        let line = bench::line_of(&job, "half_sole").expect("a line").clone();
        (line.entry, line_name(&line.body))
    };
    let name = operations::name("half_sole");
    assert_eq!(next(&lines), (entry_id(0), format!("{name}, leather, left")));
    let left_done = lines.iter().cloned().chain([step("half_sole", Side::Left)]);
    let left_done: Vec<Body> = left_done.collect();
    assert_eq!(next(&left_done), (entry_id(1), format!("{name}, rubber, right")));
}

#[test]
fn the_open_lines_are_in_the_order_of_their_operations() {
    let lines = [agreed("clean_condition_polish", 900)];
    let lines: Vec<Body> = lines.into_iter().chain(two_half_soles()).collect();
    let job = state(&lines);
    let order: Vec<_> = bench::open_lines_in_order(&job).map(|line| line.entry).collect();
    assert_eq!(order, [1, 2, 0].map(entry_id));
}

#[test]
fn a_step_is_of_the_line_it_names_and_else_of_the_only_one() {
    let lines = two_half_soles();
    let job = state(&lines);
    let variant = |job: &JobState, line: Option<EntryId>| {
        let step = Step {
            line,
            ..step_body("half_sole", Side::Right)
        };
        bench::line_of_step(job, &step).and_then(|line| line.body.variant().map(str::to_owned))
    };
    assert_eq!(variant(&job, Some(entry_id(1))).as_deref(), Some("rubber"));
    assert_eq!(variant(&job, None), None, "it may be either");
    assert_eq!(variant(&state(&lines[..1]), None).as_deref(), Some("leather"));
    assert_eq!(variant(&state(&[]), None), None);
}

#[test]
fn a_step_made_again_is_open_once_more_and_stays_in_the_history() {
    let redo = Body::Redo(Redo {
        step: entry_id(1),
        scrap: "one half sole".into(),
    });
    let lines = [agreed("half_sole", 4200), step("half_sole", Side::Both), redo];
    let now = state(&lines);
    assert_eq!(bench::remaining(&now), ["half_sole"]);
    assert_eq!(now.steps.len(), 1);
    let again: Vec<_> = lines.into_iter().chain([step("half_sole", Side::Both)]).collect();
    assert!(bench::remaining(&state(&again)).is_empty());
}

#[test]
fn skipped_work_comes_back_when_the_skip_is_taken_back() {
    let skip = Body::Skipped(Skipped {
        line: None,
        operation: "stretch".into(),
        note: String::new(),
    });
    let lines = [agreed("stretch", 900), skip];
    assert!(bench::remaining(&state(&lines)).is_empty());
    let back: Vec<_> = lines.into_iter().chain([retracted(1)]).collect();
    assert_eq!(bench::remaining(&state(&back)), ["stretch"]);
}

#[test]
fn a_question_holds_until_it_is_settled() {
    let question = Body::Question(Question {
        text: "The shank is broken.".into(),
        choices: Vec::new(),
        photo: None,
        damage: None,
    });
    let answer = |outcome| {
        Body::Answer(Answer {
            question: entry_id(0),
            outcome,
            choice: None,
            call_at: String::new(),
        })
    };
    let open = |answers: &[Outcome]| {
        let all: Vec<_> = [question.clone()]
            .into_iter()
            .chain(answers.iter().cloned().map(answer))
            .collect();
        bench::open_questions(&state(&all)).count()
    };
    assert_eq!(open(&[]), 1);
    assert_eq!(open(&[Outcome::NoAnswer]), 1);
    assert_eq!(open(&[Outcome::NoAnswer, Outcome::CallBack, Outcome::Yes]), 0);
    assert_eq!(
        open(&[Outcome::Other("asked_her_sister".into())]),
        1,
        "what a newer app says does not settle it here"
    );
    let all = [question.clone(), answer(Outcome::ReturnUnrepaired)];
    assert!(bench::returns_unrepaired(&state(&all)));
}

#[test]
fn waits_end_by_the_clock_or_by_hand_and_parts_go_back() {
    let wait = |minutes| {
        Body::Wait(Wait {
            dries: None,
            what: WaitFor::Drying,
            minutes,
            note: "half_sole".into(),
            material: None,
        })
    };
    let now = state(&[
        wait(Some(15)),
        wait(None),
        Body::WaitOver(WaitOver { wait: entry_id(1) }),
    ]);
    let open: Vec<_> = bench::open_waits(&now).collect();
    assert_eq!(open.len(), 1);
    assert_eq!(bench::ends(open[0]), Some(UnixMs(10 + 15 * 60_000)));

    let out = Body::TakenOut(TakenOut {
        kept_for: None,
        part: "shank".into(),
        side: Side::Left,
    });
    assert_eq!(bench::parts_out(&state(std::slice::from_ref(&out))).count(), 1);
    assert_eq!(
        bench::parts_out(&state(&[out, Body::PutBack(PutBack { out: entry_id(0) })])).count(),
        0
    );
}

proptest! {
    /// Any chosen order has the same work left: nothing is lost or doubled, and the chosen work comes first.
    #[test]
    fn an_order_only_orders(
        lines in prop::collection::vec(0usize..6, 0..8),
        chosen in prop::collection::vec(0usize..8, 0..6),
    ) {
        let codes = ["half_sole", "stretch", "rewelt", "zip_replacement", "a shop's own", "edge_trim_ink", "unknown", "other"];
        let mut bodies: Vec<_> = lines.iter().map(|n| agreed(codes[*n], 100)).collect();
        let before: Vec<String> = bench::remaining(&state(&bodies)).into_iter().map(str::to_owned).collect();
        bodies.push(Body::Order(Order { operations: chosen.iter().map(|n| codes[*n].into()).collect() }));
        let now = state(&bodies);
        let after = bench::remaining(&now);
        let sorted = |list: &[&str]| { let mut all: Vec<String> = list.iter().map(|one| (*one).to_owned()).collect(); all.sort(); all };
        prop_assert_eq!(sorted(&after), sorted(&before.iter().map(String::as_str).collect::<Vec<_>>()));
        let first = chosen.iter().map(|n| codes[*n]).find(|code| before.iter().any(|one| one == code));
        if let Some(first) = first {
            prop_assert_eq!(after[0], first);
        }
    }
}
