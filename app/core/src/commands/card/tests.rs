use serde_json::json;
use shared::log::body::{Blob, Gift, KeptFor, Measured, Note, PutBack, Step, TakenOut, field};

use super::*;
use crate::commands::scene::{self, JOB, history, job, said, step, subject};
use crate::commands::{MatchOf, TypedMatch, match_of};
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
    assert_eq!(section.done, ["The stiffeners round both heels made firm again."]);
    assert_eq!(
        section.found,
        ["Stiffener round the heel, left: crushed. Replaced."]
    );
    assert_eq!(
        section.gifts,
        ["The worn linings at both heels patched. It was needed."]
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
fn the_card_keeps_what_its_drawing_and_its_head_need() {
    let pair = scene::pair(&[(field::GOODS, json!("low_shoe"))]);
    let shop = scene::shop(&[
        (field::NAME, json!("Corner, bench")),
        (field::PHONE, json!("01632 960000")),
    ]);
    let mut state = job(&[
        Agreed::at("resole_welted", Minor(9000)),
        Agreed::at("welt_piece", Minor(3200)),
    ]);
    state.steps = vec![step(20, "resole_welted", 0), step(21, "welt_piece", 0)];
    let history = history(pair, state, TicketState::default());
    let chosen = AtPickup::default();
    let section = compose(&history, subject(JOB), &shop, "2027-01-16", UnixMs(0), &chosen);
    assert_eq!(section.goods, "low_shoe");
    assert!(
        section.new_parts.contains(&"outsole".to_owned()),
        "{:?}",
        section.new_parts
    );
    assert_eq!(section.mended_parts, ["welt"]);
    assert_eq!(section.shop_name, "Corner, bench");
    assert_eq!(section.shop, "Corner, bench, 01632 960000");
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
    assert_eq!(section.price.as_deref(), Some("€66.00"));
    assert!(section.gifts[0].ends_with("Worth €18.00."), "{:?}", section.gifts);
}

/// A step on one shoe.
fn one_shoe(n: u128, operation: &str, side: Side) -> Item<Step> {
    let mut item = step(n, operation, 0);
    item.body.side = side;
    item
}

fn told_of(job: &JobState) -> Vec<String> {
    told::work(job, &AtPickup::default())
}

#[test]
fn each_line_is_told_with_its_shoe_its_variant_and_its_number() {
    let heels = Agreed {
        side: Side::Left,
        variant: Some("leather".into()),
        ..Agreed::at("top_piece_replacement", Minor(2000))
    };
    let zips = Agreed {
        count: Some(2),
        ..Agreed::at("zip_replacement", Minor(9000))
    };
    // A package is agreed as a line for each of its works.
    let of_package = |operation: &str| Agreed {
        package: Some("half_soles_and_heels".into()),
        ..Agreed::at(operation, Minor(3000))
    };
    let lines = [
        heels,
        zips,
        of_package("half_sole"),
        of_package("top_piece_replacement"),
    ];
    let mut state = job(&lines);
    let all = [
        "New wearing layer under the left heel (leather).",
        "New wearing layer under both heels.",
        "Zip renewed (2 pieces).",
        "New half soles where the forepart was worn.",
    ];
    assert_eq!(told_of(&state), all, "nothing is noted: what was agreed was done");
    // Noted is one of them, and work that nobody had agreed.
    let mut zip = step(20, "zip_replacement", 0);
    zip.body.line = Some(scene::entry(101));
    state.steps = vec![zip, step(21, "edge_trim_ink", 0)];
    assert_eq!(told_of(&state), [all[2], "Sole edges trimmed, inked and waxed."]);
}

#[test]
fn what_was_done_on_one_shoe_only_is_told_so() {
    let mut state = job(&[Agreed::at("half_sole", Minor(4800))]);
    state.steps = vec![one_shoe(20, "half_sole", Side::Right)];
    assert_eq!(told_of(&state), ["A new half sole under the right forepart."]);
    state.steps.push(one_shoe(21, "half_sole", Side::Left));
    assert_eq!(told_of(&state), ["New half soles where the forepart was worn."]);
}

#[test]
fn a_gift_of_the_same_work_is_told_apart_from_what_is_paid() {
    let gift = Agreed {
        side: Side::Left,
        ..Agreed::given("top_piece_replacement", GiftWhy::MyChoice, Minor(800))
    };
    let paid = Agreed {
        side: Side::Right,
        ..Agreed::at("top_piece_replacement", Minor(800))
    };
    let state = job(&[gift, paid]);
    assert_eq!(told_of(&state), ["New wearing layer under the right heel."]);
    let given = given_words(&state, &ShopState::default(), &AtPickup::default());
    assert_eq!(given, ["New wearing layer under the left heel. On the house."]);
}

fn not_a_match(n: u128) -> Item<Measured> {
    let typed = TypedMatch {
        of: MatchOf::Laces,
        say: "The laces are not quite the colour of the old ones.".into(),
        difference: "2.3".into(),
    };
    match match_of(subject(JOB), &typed).expect("it is said").body {
        Body::Measured(said_so) => said(n, 0, said_so),
        other => panic!("not a statement: {other:?}"),
    }
}

#[test]
fn what_is_not_quite_a_match_is_told_unless_it_is_taken_off() {
    let mut state = rebuilt();
    state.measured = vec![not_a_match(50)];
    let mut shown = photo(33, Shows::Swatch);
    shown.body.of = Some(scene::entry(50));
    state.photos.push(shown);
    assert_eq!(
        told_of(&state),
        [
            "The stiffeners round both heels made firm again.",
            "The laces are not quite the colour of the old ones. Colour difference, as measured: 2.3.",
        ]
    );
    let captions: Vec<_> = photos(&state, &[]).into_iter().map(|one| one.caption).collect();
    assert_eq!(captions, ["Before", "At work", "Not quite a match", "After"]);
    let without = AtPickup {
        matches_left_out: vec![scene::entry(50).to_string()],
        ..AtPickup::default()
    };
    assert_eq!(told::work(&state, &without).len(), 1);
}

#[test]
fn only_notes_that_were_ticked_are_on_the_card() {
    let mut state = rebuilt();
    let remark = |n: u128, text: &str| {
        let note = Note {
            text: text.into(),
            ..Note::default()
        };
        said(n, 0, note)
    };
    state.notes = vec![remark(60, "Left toe worn more."), remark(61, "Pays late.")];
    let history = history(scene::pair(&[]), state.clone(), TicketState::default());
    let remarks = |chosen: &AtPickup| told::remarks(&history, &state, chosen);
    assert!(remarks(&AtPickup::default()).is_empty());
    let ticked = AtPickup {
        notes_on_card: vec![scene::entry(60).to_string()],
        ..AtPickup::default()
    };
    assert_eq!(remarks(&ticked), ["Left toe worn more."]);
}

/// A part that was taken off.
fn kept(n: u128, part: &str, side: Side, kept_for: Option<KeptFor>) -> Item<TakenOut> {
    let out = TakenOut {
        part: part.into(),
        side,
        kept_for,
    };
    said(n, 0, out)
}

#[test]
fn old_parts_that_go_with_the_pair_are_told() {
    let mut state = rebuilt();
    state.taken_out = vec![
        kept(70, "heel_base", Side::Both, Some(KeptFor::Customer)),
        kept(71, "outsole", Side::Left, Some(KeptFor::Customer)),
        kept(72, "shank", Side::Right, Some(KeptFor::Customer)),
        kept(73, "top_piece", Side::Both, Some(KeptFor::Customer)),
        kept(74, "tongue", Side::Both, Some(KeptFor::Customer)),
        kept(75, "insole", Side::Both, Some(KeptFor::Reuse)),
        kept(76, "counter", Side::Both, None),
    ];
    let history = history(scene::pair(&[]), state.clone(), TicketState::default());
    assert_eq!(
        told::remarks(&history, &state, &AtPickup::default()),
        [
            "Your old heels are with the pair.",
            "Your old left sole is with the pair.",
            "Your old heel tips are with the pair.",
            "Also with the pair, taken off: stiff strip under the arch of the right shoe and tongue.",
        ]
    );
}

#[test]
fn old_parts_that_were_put_back_are_told_once_they_are_in_their_place() {
    let mut state = rebuilt();
    state.taken_out = vec![
        kept(70, "buckle", Side::Left, Some(KeptFor::Reuse)),
        kept(71, "insole", Side::Both, Some(KeptFor::Reuse)),
        // As an older app wrote it, and the same once more.
        kept(72, "shank", Side::Right, None),
        kept(73, "shank", Side::Right, None),
        kept(74, "counter", Side::Both, Some(KeptFor::Reuse)),
    ];
    let back = |n: u128| said(n + 10, 0, PutBack { out: scene::entry(n) });
    state.put_back = (70..74).map(back).collect();
    let remarks = |goods: &str, state: &JobState| {
        let pair = scene::pair(&[(field::GOODS, json!(goods))]);
        let history = history(pair, state.clone(), TicketState::default());
        told::remarks(&history, state, &AtPickup::default())
    };
    assert_eq!(
        remarks("low_shoe", &state),
        [
            "The old buckle of the left shoe was taken off and put back.",
            "The old inner sole of each shoe was taken out and put back.",
            "The old stiff strip under the arch of the right shoe was taken out and put back.",
        ]
    );
    state.taken_out = vec![kept(70, "buckle", Side::Both, Some(KeptFor::Reuse))];
    assert_eq!(
        remarks("bag", &state),
        ["The old buckle was taken off and put back."]
    );
}

#[test]
fn what_holds_the_sole_is_told_if_it_has_changed() {
    let remarks = |fields: &[(&str, &str)]| {
        let fields: Vec<_> = fields.iter().map(|(name, code)| (*name, json!(code))).collect();
        let mut state = rebuilt();
        state.details = scene::details(&fields);
        let history = history(scene::pair(&[]), state.clone(), TicketState::default());
        told::remarks(&history, &state, &AtPickup::default())
    };
    let (guessed, opened, left) = (
        field::CONSTRUCTION_GUESSED,
        field::CONSTRUCTION_OPENED,
        field::CONSTRUCTION_LEFT,
    );
    let stitched = "The sole is now stitched. One seam inside the shoe joins insole, upper and outsole.";
    assert_eq!(remarks(&[(opened, "cemented"), (left, "blake")]), [stitched]);
    assert_eq!(remarks(&[(guessed, "cemented"), (left, "blake")]), [stitched]);
    assert_eq!(
        remarks(&[(opened, "blake"), (left, "cemented")]),
        ["The sole is now glued on. The outsole is glued to the upper where it is turned under."]
    );
    assert_eq!(
        remarks(&[(opened, "blake"), (left, "blake_rapid")]),
        [
            "The sole is now held in another way. A midsole is stitched through from inside, and the outsole is \
             stitched to it."
        ],
        "it was stitched before"
    );
    assert_eq!(
        remarks(&[(opened, "blake"), (left, "welded")]),
        ["The sole is now held in another way: welded."]
    );
    // The guess was wrong, and the work changed nothing; and nobody knows how it came.
    let none: [&str; 0] = [];
    assert_eq!(
        remarks(&[(guessed, "cemented"), (opened, "blake"), (left, "blake")]),
        none
    );
    assert_eq!(remarks(&[(left, "blake")]), none);
}
