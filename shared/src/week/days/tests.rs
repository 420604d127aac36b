//! Tests of the day to promise.

use serde_json::{Map, Value, json};
use uuid::Uuid;

use super::*;
use crate::log::body::field;
use crate::log::entry::UnixMs;
use crate::log::fold::ShopState;
use crate::price::job_statistics::JobStatistics;
use crate::trade::formulas::day::Day;

/// Monday 30 November 2026, 09:00 in Vienna.
const MONDAY: UnixMs = UnixMs(1_795_680_000_000 + 4 * 86_400_000);
const TUESDAY: &str = "2026-12-01";
const WEDNESDAY: &str = "2026-12-02";
const THURSDAY: &str = "2026-12-03";
const FRIDAY: &str = "2026-12-04";

/// A job on which work has begun, promised for a day; `""` for a new one.
fn job(n: u128, left: &[&str], day: &str) -> Job {
    let mut job = json!({
        "id": Uuid::from_u128(n),
        "tag": format!("A-{n}"),
        "goods": "low_shoe",
        "left": left,
        "begun": true,
    });
    if !day.is_empty() {
        job["day"] = json!(day);
    }
    serde_json::from_value(job).unwrap()
}

fn told(fields: Value, jobs: Vec<Job>, new: &[&str]) -> DayChoices {
    let fields: Map<String, Value> = serde_json::from_value(fields).unwrap();
    let shop = ShopState::of_values(&fields);
    let given = WeekInput {
        shop: &shop,
        statistics: &JobStatistics::of(&[], &[], &|_| Vec::new()),
        stated_rates: &|_, _, _| None,
        now: MONDAY,
        zone: "Europe/Vienna",
        offset_min: 60,
    };
    days_told(jobs, vec![job(99, new, "")], &given)
}

/// A bench with more than three days of work; only the pair that dries until Monday evening has to be late.
fn busy_bench() -> Vec<Job> {
    let mut drying = job(10, &["clean_condition_polish"], TUESDAY);
    drying.dry = Some((UnixMs(MONDAY.0 + 625 * 60_000), None));
    vec![
        drying,
        job(1, &["new_hole"], WEDNESDAY),
        job(2, &["recement_sole"], TUESDAY),
        job(3, &["sole_off", "resole_cemented", "zip_replacement"], TUESDAY),
        job(4, &["top_piece_replacement", "heel_cover"], WEDNESDAY),
        job(5, &["edge_trim_ink"], WEDNESDAY),
        job(
            6,
            &["resole_hand_welted", "top_piece_replacement", "edge_trim_ink"],
            THURSDAY,
        ),
        job(7, &["resole_cemented", "rand_repair"], THURSDAY),
        job(8, &["top_piece_replacement"], THURSDAY),
        job(
            9,
            &["midsole_replacement", "restitch_sole", "top_piece_replacement"],
            FRIDAY,
        ),
    ]
}

fn of<'a>(told: &'a DayChoices, day: &str) -> &'a DayChoice {
    let day = Day::parse(day);
    told.days.iter().find(|one| Some(one.day) == day).unwrap()
}

/// Twenty minutes of work have their time within three days, although a plan in which they have no due time may do them
/// last of all.
#[test]
fn top_pieces_brought_on_a_monday_are_certain_until_wednesday() {
    let told = told(json!({}), busy_bench(), &["top_piece_replacement"]);
    let wednesday = of(&told, WEDNESDAY);
    assert!(wednesday.certainty() >= Some(Certainty::Likely), "{told:?}");
    assert!(!wednesday.full && wednesday.late_instead.is_empty(), "{told:?}");
    assert!(told.suggested <= Day::parse(WEDNESDAY), "{told:?}");
}

/// The counter and the suggestion say the same: what is suggested is neither full nor less certain than wished, and no
/// day before it is certain enough.
#[test]
fn the_suggested_day_is_never_full_and_the_first_that_is_certain_enough() {
    let brought: [&[&str]; 3] = [
        &["top_piece_replacement"],
        &["resole_cemented"],
        &["resole_hand_welted"],
    ];
    for new in brought {
        for several in 0..3 {
            let mut jobs = busy_bench();
            let more = |n: u128| job(20 + n, &["resole_cemented", "edge_trim_ink"], FRIDAY);
            jobs.extend((0..4 * several).map(more));
            let told = told(json!({ "kept_share": 80 }), jobs, new);
            let suggested = told.suggested.unwrap();
            for day in &told.days {
                let kept = day.kept.unwrap();
                assert!(!(day.full && day.day >= suggested), "{new:?}: {told:?}");
                assert!(day.day >= suggested || kept < 0.8, "{new:?}: {told:?}");
            }
        }
    }
}

/// A day that is kept at the expense of others is neither safe nor impossible.
#[test]
fn what_only_others_could_pay_for_is_tight() {
    let certainty = |kept, pressed| {
        let day = DayChoice {
            day: Day::parse(TUESDAY).unwrap(),
            load: 0.5,
            full: false,
            kept,
            pressed,
            late_instead: Vec::new(),
        };
        (day.certainty().map(Certainty::words), day.needs_others())
    };
    assert_eq!(certainty(Some(0.1), Some(0.95)), (Some("tight"), true));
    assert_eq!(certainty(Some(0.1), Some(0.69)), (Some("late"), false));
    assert_eq!(certainty(Some(0.5), Some(0.95)), (Some("tight"), false));
    assert_eq!(certainty(Some(0.9), Some(0.9)), (Some("safe"), false));
    assert_eq!(certainty(None, None), (None, false));
}

#[test]
fn a_day_on_which_the_shop_is_closed_is_no_choice() {
    let closed = json!({ (field::hours(2)): [], "closed": [[WEDNESDAY, WEDNESDAY]] });
    let told = told(closed, Vec::new(), &["strip_and_dye"]);
    let days: Vec<String> = told.days.iter().take(3).map(|day| day.day.to_string()).collect();
    // It dries overnight: until Thursday, for Tuesdays are closed, and so is that Wednesday.
    assert_eq!(days, ["2026-11-30", THURSDAY, FRIDAY]);
    assert_eq!(told.suggested, Day::parse(THURSDAY));
}
