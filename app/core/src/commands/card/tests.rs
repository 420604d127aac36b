use serde_json::json;
use shared::log::body::{Blob, Gift, field};

use super::*;
use crate::commands::scene::{self, JOB, history, job, said, step, subject};
use shared::log::body::Side;

const HOUR_MS: i64 = 3_600_000;

fn photo(n: u128, shows: Shows) -> Item<Photo> {
    let blob = |name: String| Blob {
        sha256: name,
        media_type: "image/jpeg".into(),
        bytes: 1,
        width: 4,
        height: 3,
    };
    said(
        n,
        0,
        Photo::new(blob(format!("full {n}")), blob(format!("thumb {n}")), shows),
    )
}

fn rebuilt() -> JobState {
    let gift = Agreed {
        gift: Some(Gift {
            why: GiftWhy::Needed,
            worth_minor: Minor(1800),
        }),
        ..Agreed::at("lining_patch", Minor(0))
    };
    let mut state = job(&[Agreed::at("counter_rebuild", Minor(6000)), gift]);
    state.steps = vec![step(20, "counter_rebuild", 0), step(21, "lining_patch", HOUR_MS)];
    state.photos = vec![
        photo(30, Shows::Finished),
        photo(31, Shows::Step),
        photo(32, Shows::DropOff),
    ];
    state.damage.push(said(
        40,
        0,
        Damage {
            part: "counter".into(),
            condition: "crushed".into(),
            side: Side::Left,
            seen: Seen::Inside,
            decision: Some(Decision::Replace),
            pays: Some(Pays::Customer),
            note: String::new(),
        },
    ));
    state
}

fn composed(chosen: &AtPickup) -> Section {
    let pair = scene::pair(&[(field::COLOUR, json!("chestnut")), (field::LOOK, json!("derby"))]);
    let ticket = scene::ticket(&[(field::TAX, json!(-100))]);
    let shop = scene::shop(&[
        (field::CURRENCY, json!("EUR")),
        (field::TERMS, json!("One year.")),
    ]);
    let history = history(pair, rebuilt(), ticket);
    compose(
        &history,
        subject(JOB),
        &shop,
        "2027-01-16",
        UnixMs(4 * HOUR_MS),
        chosen,
    )
}

#[test]
fn the_card_says_what_was_done_found_and_given() {
    let section = composed(&AtPickup::default());
    assert_eq!(section.title, "chestnut derby");
    assert_eq!(section.done, ["The stiffener round the heel made firm again."]);
    assert_eq!(
        section.found,
        ["Stiffener round the heel, left: crushed. Replaced."]
    );
    assert_eq!(
        section.gifts,
        ["The worn lining at the heel patched. It was needed."]
    );
    assert_eq!(section.terms, "One year.");
    // 24 hours after the counter, 12 after the lining an hour later; four hours have passed.
    assert_eq!(section.wait_hours, Some(20));
    assert_eq!((section.price, section.next_check), (None, None));
    let captions: Vec<_> = section
        .photos
        .iter()
        .map(|photo| photo.caption.as_str())
        .collect();
    assert_eq!(captions, ["Before", "At work", "After"]);
}

#[test]
fn advice_follows_from_what_was_found_and_the_wait_is_said_once() {
    let section = composed(&AtPickup::default());
    let horn = "Use a shoe horn every time. The stiffener round the heel was damaged. A foot pushed in without a horn crushes it.";
    assert!(
        section.advice.iter().any(|line| line == horn),
        "{:?}",
        section.advice
    );
    assert!(!section.advice.iter().any(|line| line.starts_with("Wait ")));
}

#[test]
fn only_what_was_chosen_is_on_it() {
    let chosen = AtPickup {
        photos_left_out: vec!["full 31".into()],
        advice_left_out: vec!["Use a shoe horn every time.".into()],
        price_on_card: true,
        next_check: Some(6),
        ..AtPickup::default()
    };
    let section = composed(&chosen);
    assert_eq!(section.photos.len(), 2);
    assert!(!section.advice.iter().any(|line| line.contains("shoe horn")));
    assert_eq!(section.next_check.as_deref(), Some("2027-07-16"));
    // 60.00 and 10 % on top.
    assert_eq!(section.price.as_deref(), Some("66.00\u{a0}EUR"));
    assert!(
        section.gifts[0].ends_with("Worth 18.00\u{a0}EUR."),
        "{:?}",
        section.gifts
    );
}
