use serde_json::json;
use shared::log::body::{
    Agreed, Answer, KeptFor, Outcome, PutBack, Question, Side, Skipped, TakenOut, field,
};

use super::*;
use crate::commands::done::{done, step_times, vouched};
use crate::commands::scene::{self, JOB, TICKET, entry, history, job, said, slot, step, subject};
use shared::log::fold::{Item, PairState, TicketState};
use shared::price::bill::{Bill, price};

fn payment(n: u128, amount: i64, what: Paid) -> Item<Payment> {
    said(
        n,
        0,
        Payment {
            minor: Minor(amount),
            what,
        },
    )
}

fn with_question(mut state: JobState, outcome: Option<Outcome>) -> JobState {
    let question = Question {
        text: "New counters?".into(),
        choices: Vec::new(),
        photo: None,
        damage: None,
    };
    state.questions.push(said(50, 0, question));
    state.answers.extend(outcome.map(|outcome| {
        let answer = Answer {
            question: entry(50),
            outcome,
            choice: None,
            call_at: String::new(),
        };
        said(51, 0, answer)
    }));
    state
}

fn counter_out() -> JobState {
    let mut state = job(&[Agreed::at("counter_rebuild", Minor(6000))]);
    let out = TakenOut {
        kept_for: None,
        part: "counter".into(),
        side: Side::Left,
    };
    state.taken_out.push(said(60, 0, out));
    state
}

#[test]
fn what_is_due_is_everything_agreed_less_what_was_paid() {
    let mut ticket = scene::ticket(&[]);
    ticket.payments = vec![payment(70, 2000, Paid::Deposit), payment(71, 500, Paid::Refund)];
    let jobs = [
        job(&[
            Agreed::at("half_sole", Minor(4800)),
            Agreed::at("top_piece_replacement", Minor(2200)),
        ]),
        job(&[Agreed::at("new_hole", Minor(300))]),
    ];
    // 48.00 + 22.00 + 3.00 = 73.00; paid 20.00 - 5.00 = 15.00; due 58.00.
    let account = Bill::of(&ticket, &jobs);
    assert_eq!((account.total.minor, account.total.tax), (Minor(7300), None));
    assert_eq!((account.paid, account.left()), (Minor(1500), Minor(5800)));
}

#[test]
fn tax_is_in_the_prices_or_comes_on_top() {
    let jobs = [job(&[Agreed::at("half_sole", Minor(11_900))])];
    // 19 % in 119.00: 119.00 · 19 / 119 = 19.00.
    let inside = Bill::of(&scene::ticket(&[(field::TAX, json!(190))]), &jobs);
    assert_eq!(
        (inside.total.minor, inside.total.tax),
        (Minor(11_900), Some(Minor(1900)))
    );
    // 8.1 % on 119.00: 9.639, to the nearest cent 9.64.
    let on_top = Bill::of(&scene::ticket(&[(field::TAX, json!(-81))]), &jobs);
    assert_eq!(
        (on_top.left(), on_top.total.tax),
        (Minor(12_864), Some(Minor(964)))
    );
}

#[test]
fn skipped_work_costs_nothing_and_neither_does_what_goes_back_as_it_came() {
    let mut state = job(&[
        Agreed::at("half_sole", Minor(4800)),
        Agreed::at("stretch", Minor(1200)),
    ]);
    let skip = Skipped {
        line: None,
        operation: "stretch".into(),
        note: String::new(),
    };
    state.skipped.push(said(80, 0, skip));
    assert_eq!(price(&state), Minor(4800));
    assert_eq!(
        price(&with_question(state.clone(), Some(Outcome::No))),
        Minor(4800)
    );
    assert_eq!(
        price(&with_question(state, Some(Outcome::ReturnUnrepaired))),
        Minor(0)
    );
}

/// This app writes no such line; one written by another app counts all the same.
#[test]
fn what_was_taken_off_the_price_is_taken_off_the_sum() {
    let off = job(&[
        Agreed::at("half_sole", Minor(3800)),
        Agreed::at("goodwill", Minor(-300)),
    ]);
    assert_eq!(price(&off), Minor(3500));
}

#[test]
fn one_payment_settles_whichever_way_money_is_owed() {
    let jobs = [job(&[Agreed::at("half_sole", Minor(4800))])];
    let mut ticket = scene::ticket(&[]);
    let settled = |ticket: &TicketState| {
        let draft = settle(Bill::of(ticket, &jobs).left(), subject(TICKET))?;
        assert_eq!(draft.subject, Subject::new(SubjectKind::Ticket, subject(TICKET)));
        match draft.body {
            Body::Payment(payment) => Some((payment.minor, payment.what)),
            _ => None,
        }
    };
    assert_eq!(settled(&ticket), Some((Minor(4800), Paid::Balance)));
    ticket.payments.push(payment(70, 4800, Paid::Balance));
    assert_eq!(settled(&ticket), None);
    ticket.payments.push(payment(71, 200, Paid::Deposit));
    assert_eq!(settled(&ticket), Some((Minor(200), Paid::Refund)));
}

#[test]
fn the_list_is_the_shops_own_as_far_as_it_applies() {
    let state = job(&[Agreed::at("new_hole", Minor(300))]);
    let belt = history(
        scene::pair(&[(field::GOODS, json!("belt"))]),
        state.clone(),
        TicketState::default(),
    );
    assert_eq!(
        check_list(&belt, &state, &ShopState::default()),
        [
            "Done, though not noted: New hole",
            "Zip runs, buckle closes",
            "Tags off"
        ]
    );
    // If every step is noted, the line that confirms unnoted work is not on the list.
    let noted = JobState {
        steps: vec![step(50, "new_hole", 0)],
        ..state
    };
    assert_eq!(
        check_list(&belt, &noted, &ShopState::default()),
        ["Zip runs, buckle closes", "Tags off"]
    );
    let shop = scene::shop(&[(
        field::FINAL_CHECK,
        json!(["Heels level", "Tags off", "Bell rung"]),
    )]);
    assert_eq!(check_list(&belt, &noted, &shop), ["Tags off", "Bell rung"]);
}

/// ISO 20345, information for users, read in secondary texts: a repair can end the certification.
#[test]
fn a_shops_own_list_does_not_forget_the_owner_of_safety_footwear() {
    let state = JobState {
        steps: vec![step(50, "half_sole", 0)],
        ..job(&[Agreed::at("half_sole", Minor(4800))])
    };
    let boot = history(
        scene::pair(&[(field::GOODS, json!("safety_boot"))]),
        state.clone(),
        TicketState::default(),
    );
    let shop = scene::shop(&[(field::FINAL_CHECK, json!(["Tags off", "Bell rung"]))]);
    assert_eq!(
        check_list(&boot, &state, &shop),
        [
            "Tags off",
            "Bell rung",
            "Insoles as the maker supplies or names them",
            "Owner told: certification may have ended",
        ]
    );
}

#[test]
fn whatever_came_with_a_pair_is_on_the_list() {
    let mut state = JobState {
        details: scene::details(&[(field::CAME_WITH, json!(["trees", "a red pouch"]))]),
        ..JobState::default()
    };
    state.agreed = job(&[Agreed::at("half_sole", Minor(4800))]).agreed;
    let pair = history(PairState::default(), state.clone(), TicketState::default());
    let list = check_list(&pair, &state, &ShopState::default());
    for line in [
        "Shoe trees with it",
        "Everything else that came with it",
        "No cement smears",
    ] {
        assert!(list.iter().any(|one| one == line), "{line} in {list:?}");
    }
}

#[test]
fn old_parts_of_the_customer_are_asked_for_and_hold_nothing() {
    let mut state = counter_out();
    let line = "Old parts for the customer with it";
    let asks = |state: &JobState| {
        let pair = history(PairState::default(), state.clone(), TicketState::default());
        let list = check_list(&pair, state, &ShopState::default());
        list.iter().any(|one| one == line)
    };
    assert!(!asks(&state), "what goes back in is not the customer's to carry");
    state.taken_out[0].body.kept_for = Some(KeptFor::Customer);
    assert!(asks(&state));
    assert_eq!(
        (parts_out(&state), parts_for_customer(&state)),
        (String::new(), "Stiffener (left)".to_owned())
    );
    state.checked = slot(30, Checked::default());
    assert!(hand_over(subject(JOB), &state, Leaves::Finished).is_ok());
}

#[test]
fn the_check_is_refused_until_every_line_is_ticked() {
    let state = job(&[Agreed::at("half_sole", Minor(4800))]);
    let list = ["Left".to_owned(), "Right".to_owned(), "Tags off".to_owned()];
    let refused = check(subject(JOB), &state, &list, &list[1..2]).map_err(|why| why.to_string());
    assert_eq!(refused, Err("Not ticked: Left; Tags off.".to_owned()));
    let draft = check(subject(JOB), &state, &list, &list).expect("everything is ticked");
    let ticked = list.to_vec();
    assert_eq!(
        draft.body,
        Body::Checked(Checked {
            ticked,
            vouched: true
        })
    );
    assert!(draft.over.is_empty());
}

#[test]
fn a_second_check_takes_the_place_of_the_first() {
    let mut state = job(&[]);
    state.checked = slot(30, Checked::default());
    let draft = check(subject(JOB), &state, &[], &[]).expect("nothing to tick");
    assert_eq!(draft.over, [entry(30)]);
}

#[test]
fn parts_that_are_out_and_open_questions_hold_the_check_and_the_hand_over() {
    let mut state = counter_out();
    let out = Err(NotReady::PartsOut("Stiffener (left)".into()));
    assert_eq!(check(subject(JOB), &state, &[], &[]), out);
    state.checked = slot(30, Checked::default());
    for way in [Leaves::Finished, Leaves::Unrepaired] {
        assert_eq!(hand_over(subject(JOB), &state, way), out);
    }
    state.put_back.push(said(61, 0, PutBack { out: entry(60) }));
    assert!(hand_over(subject(JOB), &state, Leaves::Finished).is_ok());
    for open in [None, Some(Outcome::NoAnswer), Some(Outcome::CallBack)] {
        let asked = with_question(state.clone(), open);
        assert_eq!(check(subject(JOB), &asked, &[], &[]), Err(NotReady::Asked));
        assert_eq!(
            hand_over(subject(JOB), &asked, Leaves::Finished),
            Err(NotReady::Asked)
        );
    }
}

#[test]
fn only_what_goes_back_as_it_came_leaves_without_a_check() {
    let state = job(&[Agreed::at("half_sole", Minor(4800))]);
    assert_eq!(
        hand_over(subject(JOB), &state, Leaves::Finished),
        Err(NotReady::Unchecked)
    );
    let draft = hand_over(subject(JOB), &state, Leaves::Unrepaired).expect("it may go");
    assert_eq!(draft.body, Body::HandedOver(HandedOver { unrepaired: true }));
}

#[test]
fn steps_made_again_do_not_count_for_the_hours() {
    let mut state = job(&[]);
    state.steps = vec![step(20, "half_sole", 1000), step(21, "half_sole", 5000)];
    let redo = shared::log::body::Redo {
        step: entry(21),
        scrap: String::new(),
    };
    state.redone.push(said(22, 0, redo));
    assert_eq!(step_times(&state).collect::<Vec<_>>(), [("half_sole", 1000)]);
}

#[test]
fn the_notice_says_what_is_ready_what_is_due_and_who_says_so() {
    let shop = scene::shop(&[
        (field::NAME, json!("Quay Cobblers")),
        (field::PHONE, json!("555 0100")),
    ]);
    let pairs = ["chestnut walking boot (A1)".to_owned(), "belt (A2)".to_owned()];
    assert_eq!(
        ready_notice(&pairs, Some("€48.00"), &shop),
        "Ready to collect: chestnut walking boot (A1); belt (A2). Due: €48.00. Quay Cobblers 555 0100"
    );
    assert_eq!(
        ready_notice(&pairs[1..], None, &ShopState::default()),
        "Ready to collect: belt (A2)."
    );
}

/// Work that is confirmed as done in the final check, although it was not noted, is on the card too.
#[test]
fn what_is_vouched_for_at_the_check_stands_on_the_card() {
    let mut state = job(&[
        Agreed::at("half_sole", Minor(3800)),
        Agreed::at("stretch", Minor(900)),
    ]);
    state.steps = vec![step(50, "half_sole", 0)];
    assert!(!vouched(&state));
    assert_eq!(done(&state), ["half_sole"]);
    let list = check_list(
        &history(PairState::default(), state.clone(), TicketState::default()),
        &state,
        &ShopState::default(),
    );
    let draft = check(subject(JOB), &state, &list, &list).expect("everything is ticked");
    let Body::Checked(checked) = draft.body else {
        panic!("a check writes another body");
    };
    // Version 0.1.0 wrote the words alone.
    let words_alone = Checked {
        vouched: false,
        ..checked.clone()
    };
    for body in [checked, words_alone] {
        state.checked = slot(60, body);
        assert!(vouched(&state));
        assert_eq!(done(&state), ["half_sole", "stretch"]);
    }
}
