//! Agreed lines: what a changed line keeps, and which line a step or a skip is for.

use crate::support::{entry, entry_id, over, pair};
use shared::log::ReceivedEntry;
use shared::log::body::{Agreed, Body, Side, Skipped, Step};
use shared::log::fold::{JobState, bench};
use shared::price::bill;
use shared::price::minor::Minor;

/// The state of a job with these entries, made one after the other; entry n is the n-th one, from 0, and replaces the entry
/// that is named beside it.
fn state(bodies: &[(Body, Option<u16>)]) -> JobState {
    let made = (0..).zip(bodies).map(|(n, (body, replaced))| {
        let one = entry(n, pair(1), 10 + i64::from(n), 0, body);
        ReceivedEntry::unsent(match replaced {
            Some(replaced) => over(one, &[*replaced]),
            None => one,
        })
    });
    JobState::of(&made.collect::<Vec<_>>())
}

fn line(operation: &str, side: Side, minor: i64) -> Agreed {
    Agreed {
        side,
        ..Agreed::at(operation, Minor(minor))
    }
}

fn zips() -> Agreed {
    Agreed {
        variant: Some("metal".to_owned()),
        count: Some(2),
        package: Some("a package".to_owned()),
        ..Agreed::at("zip_replacement", Minor(9_000))
    }
}

fn step(operation: &str, line: Option<u16>) -> Body {
    Body::Step(Step {
        operation: operation.into(),
        side: Side::Both,
        note: String::new(),
        minutes: None,
        used: Vec::new(),
        line: line.map(entry_id),
        cement: None,
    })
}

fn skip(operation: &str, line: Option<u16>) -> Body {
    Body::Skipped(Skipped {
        operation: operation.into(),
        line: line.map(entry_id),
        note: String::new(),
    })
}

/// An older app knows neither variant, count nor package, and leaves them out when it changes the price.
#[test]
fn a_line_that_an_older_app_changed_keeps_what_it_does_not_say() {
    let cheaper = Agreed::at("zip_replacement", Minor(8_000));
    let now = state(&[
        (Body::Agreed(zips()), None),
        (Body::Agreed(cheaper.clone()), Some(0)),
        (Body::Agreed(cheaper), Some(1)),
    ]);
    let kept: Vec<&Agreed> = bench::agreed(&now).map(|line| &line.body).collect();
    assert_eq!(kept.len(), 1);
    assert_eq!(kept[0].price_minor, Minor(8_000));
    assert_eq!(
        (kept[0].variant(), kept[0].pieces(), kept[0].package()),
        (Some("metal"), 2, Some("a package"))
    );
}

/// A raise may only be made as high as was prescribed: a new price must not lose the height.
#[test]
fn a_prescribed_height_outlasts_a_change_of_the_price() {
    let raise = |minor, height_mm| Agreed {
        height_mm,
        ..Agreed::at("raise_to_prescription", Minor(minor))
    };
    for (next, height) in [(None, Some(12)), (Some(15), Some(15)), (Some(0), None)] {
        let now = state(&[
            (Body::Agreed(raise(6_500, Some(12))), None),
            (Body::Agreed(raise(7_000, next)), Some(0)),
        ]);
        let kept = bench::agreed(&now).next().expect("one line");
        assert_eq!(
            (kept.body.price_minor, kept.body.height_mm()),
            (Minor(7_000), height)
        );
    }
    let old = r#"{"operation":"raise_to_prescription","side":"both","price_minor":6500}"#;
    let old: Agreed = serde_json::from_str(old).expect("an older app's line");
    assert_eq!(old.height_mm(), None);
    assert!(!serde_json::to_string(&old).expect("text").contains("height"));
}

#[test]
fn a_line_that_says_so_has_them_no_more_and_other_work_inherits_nothing() {
    let plain = Agreed {
        variant: Some(String::new()),
        count: Some(1),
        package: Some(String::new()),
        ..zips()
    };
    let other = Agreed::at("zip_slider", Minor(1_000));
    for (next, operation) in [(plain, "zip_replacement"), (other, "zip_slider")] {
        let now = state(&[(Body::Agreed(zips()), None), (Body::Agreed(next), Some(0))]);
        let kept = bench::agreed(&now).next().expect("one line");
        assert_eq!(kept.body.operation, operation);
        assert_eq!(
            (kept.body.variant(), kept.body.pieces(), kept.body.package()),
            (None, 1, None)
        );
    }
}

#[test]
fn a_step_covers_the_line_it_names_also_once_that_line_is_changed() {
    let rubber = (
        Body::Agreed(line("top_piece_replacement", Side::Both, 1_600)),
        None,
    );
    let leather = (
        Body::Agreed(line("top_piece_replacement", Side::Both, 2_000)),
        None,
    );
    let open = |more: &[(Body, Option<u16>)]| -> Vec<i64> {
        let all: Vec<_> = [rubber.clone(), leather.clone()]
            .into_iter()
            .chain(more.iter().cloned())
            .collect();
        bench::open_lines(&state(&all))
            .map(|line| line.body.price_minor.0)
            .collect()
    };
    let done = (step("top_piece_replacement", Some(0)), None);
    let dearer = (
        Body::Agreed(line("top_piece_replacement", Side::Both, 1_700)),
        Some(0),
    );
    assert_eq!(open(&[]), [1_600, 2_000]);
    assert_eq!(open(std::slice::from_ref(&done)), [2_000]);
    assert_eq!(
        open(&[done, dearer]),
        [2_000],
        "it was done before its price was changed"
    );
    let unnamed = (step("top_piece_replacement", None), None);
    assert!(open(&[unnamed]).is_empty(), "a step of an older app covers both");
}

#[test]
fn a_skip_takes_away_the_line_it_names_and_no_other() {
    let left = (Body::Agreed(line("half_sole", Side::Left, 2_300)), None);
    let right = (Body::Agreed(line("half_sole", Side::Right, 2_400)), None);
    let after = |skip: Body| state(&[left.clone(), right.clone(), (skip, None)]);
    let one = after(skip("half_sole", Some(1)));
    assert_eq!(bill::price(&one), Minor(2_300));
    assert_eq!(
        bench::line_of(&one, "half_sole").map(|line| line.entry),
        Some(entry_id(0))
    );
    let all = after(skip("half_sole", None));
    assert_eq!(bill::price(&all), Minor(0));
    assert!(bench::remaining(&all).is_empty());
}
