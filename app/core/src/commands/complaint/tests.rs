use super::*;
use crate::commands::scene::{CUSTOMER, JOB, TICKET, entry, history, job, slot, step, subject};
use shared::log::fold::PairState;
use shared::price::minor::Minor;

fn earlier() -> PairHistory {
    let mut done = job(&[
        Agreed::at("half_sole", Minor(4800)),
        Agreed::at("stretch", Minor(1200)),
    ]);
    done.steps = vec![step(20, "half_sole", 1000), step(21, "edge_trim_ink", 2000)];
    let brought = Opened {
        customer: Some(subject(CUSTOMER)),
        ..Opened::default()
    };
    let ticket = TicketState {
        opened: slot(40, brought),
        ..TicketState::default()
    };
    history(PairState::default(), done, ticket)
}

fn taken(said: &CameBack) -> Option<(TakenBackIn, Vec<Draft>)> {
    let mut next = 500;
    take_back_in(&earlier(), subject(JOB), said, || {
        next += 1;
        subject(next)
    })
}

#[test]
fn it_comes_back_on_a_ticket_of_its_own_at_no_charge() {
    let said = CameBack {
        operation: Some("half_sole".into()),
        line: None,
        cause: Some(Cause::OurWork),
        note: " came off at the toe ".into(),
        day: "2027-02-01".into(),
    };
    let (taken, drafts) = taken(&said).expect("the work is named");
    assert_eq!((taken.ticket, taken.job), (subject(501), subject(502)));
    let bodies: Vec<&Body> = drafts.iter().map(|draft| &draft.body).collect();
    let opened = |body: &Body| match body {
        Body::Opened(opened) => Some(opened.clone()),
        _ => None,
    };
    assert_eq!(
        bodies
            .iter()
            .find_map(|body| opened(body))
            .and_then(|one| one.customer),
        Some(subject(CUSTOMER))
    );
    assert_eq!(
        bodies.iter().rev().find_map(|body| opened(body)),
        Some(Opened {
            pair: Some(earlier().id),
            ticket: Some(taken.ticket),
            customer: None,
        })
    );
    assert!(bodies.contains(&&Body::Complaint(Complaint {
        job: subject(JOB),
        step: Some(entry(20)),
        operation: "half_sole".into(),
        cause: Some(Cause::OurWork),
        note: "came off at the toe".into(),
    })));
    assert!(bodies.contains(&&Body::Agreed(Agreed::at("half_sole", Minor(0)))));
    let tag = Draft::next_tag(Subject::new(SubjectKind::Job, taken.job));
    assert_eq!(drafts.iter().filter(|draft| **draft == tag).count(), 1);
    assert_ne!(taken.ticket, subject(TICKET));
}

#[test]
fn nothing_is_taken_in_before_the_work_is_named() {
    assert_eq!(taken(&CameBack::default()), None);
}

#[test]
fn work_that_was_agreed_and_never_noted_can_be_complained_of() {
    let history = earlier();
    let state = history.jobs.get(&subject(JOB)).expect("the job");
    let work = complained_of(state);
    let codes: Vec<_> = work.iter().map(|one| one.operation.as_str()).collect();
    assert_eq!(codes, ["half_sole", "edge_trim_ink", "stretch"]);
    let said = CameBack {
        operation: Some("stretch".into()),
        ..CameBack::default()
    };
    let (_, drafts) = taken(&said).expect("the work is named");
    let complaint = drafts.iter().find_map(|draft| match &draft.body {
        Body::Complaint(complaint) => Some(complaint),
        _ => None,
    });
    assert_eq!(complaint.expect("a complaint").step, None);
}

#[test]
fn it_is_done_again_as_it_was_agreed() {
    let mut history = earlier();
    let state = history.jobs.get_mut(&subject(JOB)).expect("the job");
    let first = state.agreed[0].versions.last_mut().expect("a line");
    (first.body.variant, first.body.count) = (Some("leather".into()), Some(2));
    let said = CameBack {
        operation: Some("half_sole".into()),
        ..CameBack::default()
    };
    let taken = take_back_in(&history, subject(JOB), &said, || subject(600)).expect("the work is named");
    let mut lines = taken.1.iter().filter_map(|draft| match &draft.body {
        Body::Agreed(line) => Some(line),
        _ => None,
    });
    let line = lines.next_back().expect("a line");
    assert_eq!((line.variant(), line.pieces()), (Some("leather"), 2));
    assert!(line.price_minor.is_zero());
}

#[test]
fn of_two_lines_of_an_operation_the_one_that_failed_is_done_again() {
    let of = |side, variant: &str| Agreed {
        side,
        variant: Some(variant.to_owned()),
        ..Agreed::at("half_sole", Minor(2600))
    };
    let mut done = job(&[of(Side::Left, "leather"), of(Side::Right, "rubber")]);
    // The step of the left one names its line; an older app noted the right one.
    let (mut left, mut right) = (step(20, "half_sole", 1000), step(21, "half_sole", 2000));
    (left.body.side, left.body.line) = (Side::Left, Some(entry(100)));
    right.body.side = Side::Right;
    done.steps = vec![left, right];
    let work = complained_of(&done);
    let name = operations::name("half_sole");
    let names: Vec<_> = work.iter().map(|one| one.name.clone()).collect();
    assert_eq!(
        names,
        [format!("{name}, leather, left"), format!("{name}, rubber, right")]
    );
    let life = history(PairState::default(), done, TicketState::default());
    let again = |work: &EarlierWork| {
        let said = CameBack {
            operation: Some(work.operation.clone()),
            line: work.line,
            ..CameBack::default()
        };
        let (_, drafts) = take_back_in(&life, subject(JOB), &said, || subject(600)).expect("it is named");
        let step = drafts.iter().find_map(|draft| match &draft.body {
            Body::Complaint(complaint) => complaint.step,
            _ => None,
        });
        let line = drafts.iter().find_map(|draft| match &draft.body {
            Body::Agreed(line) => Some(line_name(line)),
            _ => None,
        });
        (step, line.expect("a line"))
    };
    assert_eq!(again(&work[0]), (Some(entry(20)), names[0].clone()));
    assert_eq!(again(&work[1]), (Some(entry(21)), names[1].clone()));
}

#[test]
fn the_cause_is_set_changed_and_opened_again_at_the_bench() {
    let mut state = job(&[]);
    assert_eq!(
        set_cause(subject(JOB), &state, Some(Cause::Bond)),
        None,
        "no complaint"
    );
    let said = Complaint {
        job: subject(9),
        step: Some(entry(20)),
        operation: "half_sole".into(),
        cause: None,
        note: "came off at the toe".into(),
    };
    state.complaint = slot(30, said.clone());
    assert_eq!(
        set_cause(subject(JOB), &state, None),
        None,
        "nothing would change"
    );
    let draft = set_cause(subject(JOB), &state, Some(Cause::Bond)).expect("a cause");
    assert_eq!(draft.over, [entry(30)]);
    let found = Complaint {
        cause: Some(Cause::Bond),
        ..said.clone()
    };
    assert_eq!(draft.body, Body::Complaint(found.clone()));
    state.complaint = slot(31, found);
    let again = set_cause(subject(JOB), &state, None).expect("it is open again");
    assert_eq!(again.body, Body::Complaint(said));
}

#[test]
fn every_cause_has_words_of_its_own() {
    let words: std::collections::BTreeSet<&str> = Cause::KNOWN.iter().map(cause_words).collect();
    assert_eq!(words.len(), Cause::KNOWN.len());
    assert!(
        words
            .iter()
            .all(|words| words.starts_with(|first: char| first.is_uppercase()))
    );
    assert_eq!(cause_words(&Cause::from("moonlight")), "moonlight");
}
