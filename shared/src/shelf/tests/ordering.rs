//! Suggestions, waits, and an order that leaves the shop.

use std::slice;

use super::*;
use crate::price::currency::Currency;

#[test]
fn the_last_used_material_is_suggested_first() {
    let heel = Subject::new(SubjectKind::Material, SubjectId(Uuid::from_u128(0x77)));
    let name = vec![(field::NAME.to_owned(), json!("Leather"))];
    let leather = || Used {
        material: "Leather".to_owned(),
        thousandths: 900,
        material_id: Some(heel.id),
    };
    let more = written(600, opening(heel.id, name));
    let steps = [
        step(1, Side::Both, vec![leather()]),
        step(2, Side::Both, of_sheet(160)),
    ];
    let names = |count: usize| {
        let all = opened().into_iter().chain(more.clone());
        let entries: Entries = all.chain(steps[..count].iter().cloned()).collect();
        let materials = Materials::of(&entries);
        let usual = UsualTakes::of(&materials, &ShopState::default());
        let usage = uses(&facts(&entries), &usual);
        let shelf = Shelf::of(&materials, &usage);
        let next: Entries = [step(9, Side::Left, Vec::new())].into_iter().collect();
        let next = &facts(&next).steps[0];
        let amounts = |all: Vec<TakeSuggestion>| -> Vec<_> {
            all.into_iter().map(|one| (one.name, one.thousandths)).collect()
        };
        let likely = amounts(suggestions(next, &shelf, &usual, &usage));
        (likely, amounts(other_materials(next, &shelf, &usual, &usage)))
    };
    // By hand, for one shoe: half of the usual 156, and half of the 900 that a pair took.
    let (sheet, leather) = (("Rubber sheet".to_owned(), 78), ("Leather".to_owned(), 450));
    let one = ("Leather".to_owned(), 500);
    assert_eq!(
        names(0),
        (vec![sheet.clone()], vec![one]),
        "nobody has soled with leather yet"
    );
    assert_eq!(names(1), (vec![leather.clone(), sheet.clone()], Vec::new()));
    assert_eq!(names(2), (vec![sheet, leather], Vec::new()));
}

fn over(wait: u16) -> Body {
    let wait = entry_id(wait);
    Body::WaitOver(WaitOver { wait })
}

#[test]
fn a_job_that_waits_for_a_material_goes_on_when_it_arrives() {
    let wait = |n: u16, material, note: &str| {
        let wait = Wait {
            what: WaitFor::Material,
            minutes: None,
            note: note.to_owned(),
            material,
            dries: None,
        };
        said(n, &job(), &Body::Wait(wait), &[])
    };
    let waits = |more: &[ReceivedEntry]| -> (usize, usize) {
        let all = [
            wait(2, Some(sheet().id), ""),
            wait(3, None, "Rubber sheet"),
            wait(4, None, "felt"),
        ];
        let all = opened().into_iter().chain(all).chain(more.iter().cloned());
        let entries: Entries = all.collect();
        let materials = Materials::of(&entries);
        let sheet = materials.get(sheet().id).unwrap();
        let job = job_state(&entries);
        (
            waits_for(&job, sheet).count(),
            open_waits_for(&job, sheet).count(),
        )
    };
    assert_eq!(waits(&[]), (2, 2), "one by id, one by name");
    assert_eq!(waits(&[arrived(1, 1_000, None)]), (2, 2), "that was before");
    let come = arrived(5, 1_000, None);
    assert_eq!(
        waits(slice::from_ref(&come)),
        (0, 2),
        "over, but nobody ended them"
    );
    let ended = [2, 3].map(|wait| said(5 + wait, &job(), &over(wait), &[]));
    assert_eq!(waits(&[&[come.clone()][..], &ended[..]].concat()), (0, 0));
    assert_eq!(waits(&[come, taken_back(6, &sheet(), 5)]), (2, 2));
}

#[test]
fn what_is_on_order_is_listed_with_what_has_not_come() {
    let one = row(&[
        counted(1, 500, 500, &[]),
        ordered(2, 3_000),
        arrived(3, 1_000, Some(2)),
    ]);
    let shelf = Shelf { rows: vec![one] };
    assert_eq!(shelf.order_list(), [], "enough is on order");
    let lines = shelf.on_order_list();
    assert_eq!(lines[0].thousandths, 2_000);
    assert_eq!(lines[0].facts(), "sheet, 60 × 40 cm, 6.5 mm, black");
}

/// The records of a file, read as RFC 4180 says: fields between commas, records between line breaks; in a quoted
/// field a doubled quote is a quote.
fn records(file: &str) -> Vec<Vec<String>> {
    let (mut all, mut record, mut field) = (Vec::new(), Vec::new(), String::new());
    let (mut quoted, mut letters) = (false, file.chars().peekable());
    while let Some(letter) = letters.next() {
        match letter {
            '"' if quoted && letters.next_if_eq(&'"').is_some() => field.push('"'),
            '"' => quoted = !quoted,
            ',' if !quoted => record.push(std::mem::take(&mut field)),
            '\r' if !quoted && letters.next_if_eq(&'\n').is_some() => {
                record.push(std::mem::take(&mut field));
                all.push(std::mem::take(&mut record));
            }
            other => field.push(other),
        }
    }
    assert!(field.is_empty() && record.is_empty(), "the last record ends too");
    all
}

#[test]
fn an_order_leaves_as_a_text_and_as_a_file() {
    let mut low = row(&[counted(1, -700, -700, &[])]);
    let lines = Shelf {
        rows: vec![low.clone()],
    }
    .order_list();
    let text = order_text(&lines, "Corner bench", "2 March 2026");
    assert_eq!(
        text,
        "Order from Corner bench, 2 March 2026\n\nBrack & Daughters:\n\
         - 3 sheet: Rubber sheet, sheet, 60 × 40 cm, 6.5 mm, black\n"
    );
    low.state.details = ShopState::of_values(
        &json!({"name": "Tape, 12\" wide\nwaxed", "least": 1000})
            .as_object()
            .unwrap()
            .clone(),
    )
    .details;
    let odd = Shelf { rows: vec![low] }.order_list();
    let file = order_csv(&[lines, odd].concat(), Currency::of("EUR").unwrap());
    let read = records(&file);
    assert_eq!(read.len(), 3);
    assert_eq!(
        read[1],
        [
            "Brack & Daughters",
            "Rubber sheet",
            "sheet",
            "60 × 40 cm",
            "6.5 mm",
            "black",
            "3",
            "sheet",
            "30.00",
            "EUR"
        ]
    );
    assert_eq!(
        read[2],
        ["", "Tape, 12\" wide\nwaxed", "", "", "", "", "2", "", "", "EUR"]
    );
}
