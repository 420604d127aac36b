//! Each kind of fact changes the plan.

use std::collections::BTreeMap;

use super::log::{Log, agreed, at, detail, later, named};
use super::*;
use crate::log::body::{
    Answer, Body, Checked, Complaint, HandedOver, Note, Opened, Order, Outcome, Question, Redo, Side,
    Skipped, Step, Wait, WaitFor, WaitOver,
};
use crate::log::entry::{EntryId, SubjectKind};
use crate::week::facts::{DayOfFacts, PlanFact};

/// The minute at which each fact happens.
const THEN: i64 = 12;

/// Eight pairs in the shop: the third waits for an answer, the fourth dries until noon, for which it is promised.
struct Before {
    log: Log,
    question: EntryId,
    wait: EntryId,
    step: EntryId,
}

fn before() -> Before {
    let mut log = Log::default();
    for n in 1..=4 {
        log.bring(n, -600, &["half_sole", "clean_condition_polish"], FRIDAY);
    }
    for n in 5..=8 {
        log.bring(n, -600, &["small_repair"], TODAY);
    }
    log.write(&SubjectKind::Ticket, 4, -600, &detail(field::DAY, TODAY));
    log.write(&SubjectKind::Ticket, 4, -600, &detail(field::READY_FROM, "12:00"));
    let text = "Mend the lining too?".to_owned();
    let question = Question {
        text,
        choices: Vec::new(),
        photo: None,
        damage: None,
    };
    let question = log.write(&SubjectKind::Job, 3, -500, &Body::Question(question));
    let wait = log.write(&SubjectKind::Job, 4, -5, &waits(WaitFor::Drying, Some(185)));
    let step = log.write(&SubjectKind::Job, 2, -30, &done("half_sole"));
    Before {
        log,
        question,
        wait,
        step,
    }
}

fn waits(what: WaitFor, minutes: Option<u32>) -> Body {
    let note = String::new();
    Body::Wait(Wait {
        dries: None,
        material: None,
        what,
        minutes,
        note,
    })
}

fn done(operation: &str) -> Body {
    Body::Step(Step {
        cement: None,
        line: None,
        operation: operation.into(),
        side: Side::Both,
        note: String::new(),
        minutes: None,
        used: Vec::new(),
    })
}

/// The plans of two minutes after a fact, without it and with it.
fn both(what: &str, fact: impl FnOnce(&mut Log, &Before)) -> (WeekPlan, WeekPlan) {
    let before = before();
    let mut log = before.log.clone();
    fact(&mut log, &before);
    let (without, with) = (before.log.told(THEN + 2), log.told(THEN + 2));
    assert_ne!(without, with, "{what}");
    (without, with)
}

/// The same for a fact about the n-th job.
fn of_job(what: &str, n: u64, body: &Body) -> (WeekPlan, WeekPlan) {
    both(what, |log, _| {
        log.write(&SubjectKind::Job, n, THEN, body);
    })
}

fn has(told: &WeekPlan, n: u64) -> bool {
    let job = named(&SubjectKind::Job, n);
    told.order.iter().any(|one| one.job == job)
}

fn first(told: &WeekPlan) -> SubjectId {
    told.runs[0].jobs[0].job
}

#[test]
fn work_that_is_agreed_skipped_done_or_to_be_done_again_changes_the_plan() {
    of_job("agreed", 5, &agreed("half_sole"));
    let skipped = Body::Skipped(Skipped {
        line: None,
        operation: "half_sole".into(),
        note: String::new(),
    });
    of_job("skipped", 1, &skipped);
    of_job("done", 5, &done("small_repair"));
    both("again", |log, before| {
        let redo = Body::Redo(Redo {
            step: before.step,
            scrap: String::new(),
        });
        log.write(&SubjectKind::Job, 2, THEN, &redo);
    });
    let order = Body::Order(Order {
        operations: vec!["clean_condition_polish".into(), "half_sole".into()],
    });
    of_job("in another order", 1, &order);
    let (without, with) = both("come in", |log, _| log.bring(9, THEN, &["small_repair"], TODAY));
    assert!(has(&with, 9) && !has(&without, 9));
}

#[test]
fn waits_and_questions_change_the_plan() {
    of_job("a wait", 5, &waits(WaitFor::Drying, Some(60)));
    let (_, with) = of_job("material", 5, &waits(WaitFor::Material, None));
    assert!(!has(&with, 5), "{with:?}");
    both("dry before its time", |log, before| {
        let over = Body::WaitOver(WaitOver { wait: before.wait });
        log.write(&SubjectKind::Job, 4, THEN, &over);
    });
    let question = Body::Question(Question {
        text: "Which colour?".to_owned(),
        choices: Vec::new(),
        photo: None,
        damage: None,
    });
    let (_, with) = of_job("a question", 5, &question);
    assert!(!has(&with, 5), "{with:?}");
    let (without, with) = both("an answer", |log, before| {
        let answer = Body::Answer(Answer {
            question: before.question,
            outcome: Outcome::No,
            choice: None,
            call_at: String::new(),
        });
        log.write(&SubjectKind::Job, 3, THEN, &answer);
    });
    assert!(has(&with, 3) && !has(&without, 3));
}

#[test]
fn promises_change_the_plan() {
    let of_ticket = |what: &str, field: &str, value: serde_json::Value| {
        both(what, |log, _| {
            log.write(&SubjectKind::Ticket, 1, THEN, &detail(field, value));
        })
    };
    of_ticket("another day", field::DAY, json!("2026-11-25"));
    both("a time", |log, _| {
        log.write(&SubjectKind::Ticket, 5, THEN, &detail(field::READY_FROM, "09:30"));
    });
    let (_, waits) = of_ticket("the customer waits", field::WHILE_WAITING, json!(true));
    assert_eq!(first(&waits), named(&SubjectKind::Job, 1), "{waits:?}");
    // How much a minute late counts shows only where something is late.
    let late = |body: Option<(SubjectKind, Body)>| {
        let mut log = Log::default();
        for n in 1..=2 {
            log.bring(n, -600, &["resole_hand_welted"], "2026-11-20");
        }
        if let Some((kind, body)) = body {
            log.write(&kind, 2, THEN, &body);
        }
        log.told(THEN + 2).order
    };
    let rush = late(Some((SubjectKind::Ticket, detail(field::RUSH, true))));
    let complaint = Body::Complaint(Complaint {
        job: named(&SubjectKind::Job, 99),
        step: None,
        operation: "half_sole".into(),
        cause: None,
        note: String::new(),
    });
    let complaint = late(Some((SubjectKind::Job, complaint)));
    assert_ne!(late(None), rush);
    assert_ne!(late(None), complaint);
}

#[test]
fn what_is_put_first_put_aside_begun_interrupted_ready_or_gone_changes_the_plan() {
    let (_, with) = of_job("put first", 2, &detail(field::FIRST, true));
    assert_eq!(first(&with), named(&SubjectKind::Job, 2), "{with:?}");
    let on_top = first(&before().log.told(THEN));
    let top = (1..=8)
        .find(|n| named(&SubjectKind::Job, *n) == on_top)
        .expect("one of the pairs");
    let (_, with) = of_job("put aside", top, &detail(field::PUT_ASIDE, at(240).0));
    assert_ne!(first(&with), on_top, "{with:?}");
    let (without, with) = of_job("begun", top, &detail(field::RUN_BEGUN, at(THEN).0));
    assert!(with.runs[0].begun && !without.runs[0].begun);
    let interrupted = detail(field::RUN_INTERRUPTED, at(THEN).0);
    let write = |log: &mut Log| {
        log.write(&SubjectKind::Job, top, THEN, &interrupted);
    };
    let facts = facts(write, THEN);
    assert_eq!(facts.last().unwrap().at, at(THEN));
    let checked = Body::Checked(Checked::default());
    assert!(!has(&of_job("ready", top, &checked).1, top));
    let gone = Body::HandedOver(HandedOver::default());
    assert!(!has(&of_job("gone", top, &gone).1, top));
}

/// The facts up to a minute.
fn facts(write: impl FnOnce(&mut Log), until: i64) -> Vec<PlanFact> {
    let mut log = before().log;
    write(&mut log);
    let mut day = DayOfFacts::default();
    asked(json!({}), |given| {
        for (pair, entries) in &log.pairs {
            day.add(*pair, entries, NOW, at(until));
        }
        day.add_hours(NOW, &later(given, until));
    });
    day.facts
}

#[test]
fn a_remark_or_a_field_of_the_pair_is_no_fact() {
    let found = facts(
        |log| {
            let note = Body::Note(Note {
                of: None,
                text: "Scuffed toe.".to_owned(),
                voice: None,
            });
            log.write(&SubjectKind::Job, 1, THEN, &note);
            log.write(&SubjectKind::Pair, 1, THEN, &Body::Opened(Opened::default()));
        },
        THEN,
    );
    assert_eq!(found, []);
}

/// Waits end, and the shop opens and closes, at times that the log and the hours tell alone; not before they have come.
#[test]
fn ends_of_waits_and_edges_of_the_opening_hours_are_facts_once_they_have_come() {
    let times = |until: i64| {
        let found = facts(|_| (), until);
        found
            .iter()
            .map(|fact| ((fact.at.0 - NOW.0) / MINUTE, fact.jobs.len()))
            .collect::<Vec<_>>()
    };
    assert_eq!(times(179), []);
    assert_eq!(times(180), [(180, 1)]);
    assert_eq!(times(700), [(180, 1), (240, 0), (300, 0), (540, 0)]);
    // A wait that is noted anew ends only once.
    let found = facts(
        |log| {
            log.write(&SubjectKind::Job, 4, 100, &waits(WaitFor::Drying, Some(100)));
        },
        230,
    );
    let found: Vec<i64> = found.iter().map(|fact| (fact.at.0 - NOW.0) / MINUTE).collect();
    assert_eq!(found, [100, 200]);
}

/// Work on the first of four pairs takes far longer than planned. Three pairs that are wanted soon are dry meanwhile:
/// they come first by that, and not by the clock alone.
#[test]
fn what_is_dry_comes_first_where_it_would_be_late() {
    let dries = |n| Job {
        dry: Some((at(45), Some("top_piece_replacement".to_owned()))),
        ready_from: Some("11:15".to_owned()),
        rush: true,
        ..job(n, &["top_piece_replacement"], TODAY)
    };
    let dries: Vec<Job> = (7..=9).map(dries).collect();
    let jobs = (1..=4).map(|n| job(n, &["small_repair"], FRIDAY));
    let jobs: BTreeMap<SubjectId, Job> = jobs.chain(dries.clone()).map(|job| (job.id, job)).collect();
    asked(json!({}), |given| {
        let opened = DayPlan::opened(jobs, given);
        let now = later(given, 45);
        let told = |jobs: Vec<Job>| {
            let mut day = opened.clone();
            let fact = PlanFact {
                at: at(45),
                jobs: jobs.into_iter().map(|job| (job.id, Some(job))).collect(),
            };
            day.take(&fact, &now);
            run_told(&day, &now)
        };
        let (clock, dry) = (told(Vec::new()), told(dries));
        assert!(number(first(&clock)) < 7, "{clock:?}");
        assert!(number(first(&dry)) >= 7, "{dry:?}");
        let changed = dry.runs[0].changed.as_deref();
        assert_eq!(changed, Some("Changed at 09:45: A-7 is dry."));
    });
}

/// While nothing can be done before the break ends, the plan says so; when the shop opens again, the run begins.
#[test]
fn when_the_shop_opens_again_the_run_is_still_the_same_and_begins_now() {
    let log = before().log;
    let (closed, open) = (log.told(290), log.told(300));
    assert!(!closed.runs[0].now && open.runs[0].now, "{closed:?} {open:?}");
    assert_eq!(first(&closed), first(&open));
}
