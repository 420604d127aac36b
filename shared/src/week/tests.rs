//! Tests of the run and of the day to promise, with invented jobs.

#![cfg(feature = "zones")]

mod arrival;
mod facts;
mod log;
mod standing;

use std::collections::BTreeMap;

use proptest::prelude::*;
use serde_json::{Map, json};
use uuid::Uuid;

use super::day_plan::DayPlan;
use super::*;
use crate::log::body::field;
use crate::log::entry::{SubjectId, UnixMs};
use crate::log::fold::ShopState;
use crate::price::job_statistics::JobStatistics;
use crate::trade::Goods;
use crate::trade::formulas::day::Day;
use crate::trade::operations::operations;

/// Thursday 26 November 2026, 09:00 in Vienna.
const NOW: UnixMs = UnixMs(1_795_680_000_000);
const MINUTE: i64 = 60_000;
const TODAY: &str = "2026-11-26";
const FRIDAY: &str = "2026-11-27";

pub(super) fn job(n: u128, left: &[&str], day: &str) -> Job {
    Job {
        amounts: BTreeMap::new(),
        cements: BTreeMap::new(),
        dried: 0,
        dries: None,
        materials: Vec::new(),
        id: SubjectId(Uuid::from_u128(n)),
        tag: format!("A-{n}"),
        goods: Goods::LowShoe,
        guessed: None,
        left: left.iter().map(|code| (*code).into()).collect(),
        begun: true,
        dry: None,
        day: Day::parse(day),
        ready_from: None,
        rush: false,
        waits: false,
        complaint: false,
        first: false,
        put_aside: None,
        run_begun: None,
        run_interrupted: None,
        opened_at: UnixMs(0),
        held: false,
    }
}

fn number(job: SubjectId) -> u128 {
    job.0.as_u128()
}

fn asked<T>(fields: serde_json::Value, ask: impl FnOnce(&WeekInput<'_>) -> T) -> T {
    let fields: Map<String, serde_json::Value> = serde_json::from_value(fields).unwrap();
    let shop = ShopState::of_values(&fields);
    ask(&WeekInput {
        shop: &shop,
        statistics: &JobStatistics::of(&[], &[], &|_| Vec::new()),
        stated_rates: &|_, _, _| None,
        now: NOW,
        zone: "Europe/Vienna",
        offset_min: 60,
    })
}

fn run(jobs: Vec<Job>) -> WeekPlan {
    asked(json!({}), |given| opened(jobs, given))
}

/// The plan of a shop that opens now.
fn opened(jobs: Vec<Job>, given: &WeekInput<'_>) -> WeekPlan {
    let jobs = jobs.into_iter().map(|job| (job.id, job)).collect();
    run_told(&DayPlan::opened(jobs, given), given)
}

fn days(jobs: Vec<Job>, new: Vec<Job>) -> DayChoices {
    asked(json!({}), |given| days_told(jobs, new, given))
}

#[test]
fn six_pairs_with_the_same_work_are_one_run() {
    let codes = ["sole_off", "resole_cemented", "edge_trim_ink"];
    let told = run((1..=6).map(|n| job(n, &codes, FRIDAY)).collect());
    let [first] = told.runs.as_slice() else {
        panic!("one works at the bench: {told:?}");
    };
    assert!(first.place == "strip" && first.now, "{first:?}");
    assert!(
        first.when.contains(&format!("{} min", first.minutes)),
        "{first:?}"
    );
    assert!(
        first.jobs.len() >= 4,
        "a change of station for each would cost more: {first:?}"
    );
    let says = |part: &str| first.why.iter().any(|why| why.contains(part));
    assert!(
        says(" is promised for tomorrow.") && says(&format!("{} in one go", first.jobs.len())),
        "{first:?}"
    );
    assert_eq!(told.order.len(), 6);
}

#[test]
fn cement_is_put_on_several_before_the_first_is_joined() {
    let told = run((1..=6)
        .map(|n| job(n, &["top_piece_replacement"], FRIDAY))
        .collect());
    let first = &told.runs[0];
    assert!(first.jobs.len() > 1, "{first:?}");
    assert!(first.jobs.iter().all(|one| one.coat && one.wait_min == 10));
}

/// What is left of an operation is cemented as its first part was.
#[test]
fn the_wait_follows_the_cement_that_was_named() {
    let wait = |cement: Option<&str>| {
        let mut one = job(1, &["half_sole"], FRIDAY);
        one.cements
            .extend(cement.map(|cement| ("half_sole".into(), cement.to_owned())));
        run(vec![one]).runs[0].jobs[0].wait_min
    };
    assert_eq!(wait(None), 10);
    assert_eq!([wait(Some("polyurethane")), wait(Some("water_based"))], [15, 20]);
    assert_eq!(wait(Some("Grey tin")), 10, "no product of this shop");
}

/// Work that is longer than half a day is done in pieces: after the first one nothing dries yet.
#[test]
fn the_first_piece_of_long_work_is_no_part_before_a_wait() {
    let mut long = job(1, &["counter_rebuild"], FRIDAY);
    long.amounts.insert("counter_rebuild".into(), 300);
    let told = run(vec![long]);
    let first = &told.runs[0].jobs[0];
    assert_eq!(
        (first.coat, first.wait_min, first.dries.as_deref()),
        (false, 0, None)
    );
}

#[test]
fn what_is_cemented_goes_on_while_it_is_open() {
    let mut jobs: Vec<Job> = (1..=4).map(|n| job(n, &["half_sole"], FRIDAY)).collect();
    jobs[3].dry = Some((UnixMs(NOW.0 - 5 * MINUTE), Some("half_sole".to_owned())));
    let told = run(vec![jobs[3].clone()]);
    let first = &told.runs[0];
    assert_eq!((first.jobs[0].coat, first.jobs[0].wait_min), (false, 0));
    assert_eq!(first.why[0], "The cement on A-4 stays open until about 09:25.");
    // A wait that was noted on earlier work says nothing about this operation.
    jobs[3].dry = Some((UnixMs(NOW.0 + 60 * MINUTE), Some("sole_off".to_owned())));
    let told = run(jobs);
    let waits = told.order.iter().find(|one| number(one.job) == 4).unwrap();
    assert!(waits.at.0 >= NOW.0 + 60 * MINUTE);
}

#[test]
fn what_is_held_is_no_part_of_the_plan_and_says_by_when_it_must_go_on() {
    let held = Job {
        held: true,
        ..job(1, &["half_sole"], FRIDAY)
    };
    let late = Job {
        held: true,
        ..job(2, &["half_sole"], "2026-11-20")
    };
    let told = run(vec![held, late, job(3, &["half_sole"], FRIDAY)]);
    assert_eq!(
        told.order.iter().map(|one| number(one.job)).collect::<Vec<_>>(),
        [3]
    );
    let words: Vec<&str> = told.held.iter().map(|one| one.words.as_str()).collect();
    assert!(words[0].starts_with("Must restart by tomorrow"), "{words:?}");
    assert_eq!(words[1], "Its day can no longer be kept: tell the customer.");
}

#[test]
fn who_will_be_late_is_said_and_what_would_help() {
    // A day has at most seven hours of work; each of these jobs takes more than one.
    let mut jobs: Vec<Job> = (1..=9).map(|n| job(n, &["resole_cemented"], TODAY)).collect();
    jobs.push(job(10, &["resole_hand_welted"], "2026-11-25"));
    let told = run(jobs);
    assert!(told.risks.len() >= 2, "{told:?}");
    let impossible = told.risks.iter().find(|one| number(one.job) == 10).unwrap();
    assert!(
        impossible
            .help
            .as_ref()
            .unwrap()
            .starts_with("It cannot be done before")
            && !impossible.first,
        "{impossible:?}"
    );
    let helped = told
        .risks
        .iter()
        .find(|one| one.first)
        .expect("one that can still be saved");
    assert!(
        helped
            .help
            .as_ref()
            .unwrap()
            .starts_with("Done first it would be in time"),
        "{helped:?}"
    );
}

/// Late for the promised hour, although the day alone would be kept.
#[test]
fn what_is_promised_from_an_hour_on_is_late_after_it() {
    let from = |hour: &str| {
        let mut job = job(1, &["half_sole"], TODAY);
        job.ready_from = Some(hour.to_owned());
        run(vec![job])
    };
    for kept in ["", "18:00", "23:00", "no time"] {
        assert_eq!(from(kept).risks, [], "{kept}");
    }
    let told = from("09:05");
    assert_eq!(told.risks.len(), 1);
    assert!(
        told.risks[0].words.ends_with(", later than promised."),
        "{told:?}"
    );
    let why = &told.runs[0].why;
    assert!(
        why.iter()
            .any(|why| why.ends_with("is promised for today, from 09:05.")),
        "{why:?}"
    );
}

#[test]
fn the_cement_that_closes_before_the_bench_opens_is_not_said_to_be_open() {
    let mut coated = job(1, &["recement_sole", "clean_condition_polish"], FRIDAY);
    coated.dry = Some((UnixMs(NOW.0 + 10 * MINUTE), Some("recement_sole".to_owned())));
    let why = |opens: u16| {
        let thursday = Map::from_iter([(field::hours(4), json!([[opens, 1080]]))]);
        let told = asked(thursday.into(), |given| opened(vec![coated.clone()], given));
        told.runs[0].why.join(" ")
    };
    assert!(
        why(540).contains("The cement on A-1 stays open until about "),
        "{}",
        why(540)
    );
    let late = why(1020);
    assert!(
        late.contains("The cement on A-1 closes about ") && !late.contains("stays open"),
        "{late}"
    );
}

#[test]
fn do_this_first_is_obeyed_and_not_now_too() {
    let mut jobs: Vec<Job> = (1..=5)
        .map(|n| job(n, &["clean_condition_polish"], FRIDAY))
        .collect();
    jobs[4].day = Day::parse("2026-12-20");
    jobs[4].first = true;
    jobs[0].put_aside = Some(UnixMs(NOW.0 + 180 * MINUTE));
    let told = run(jobs.clone());
    assert_eq!(number(told.runs[0].jobs[0].job), 5);
    assert_eq!(told.runs[0].why[0], "You put A-5 first.");
    // A customer who waits in the shop.
    let mut waiting = jobs.clone();
    (waiting[4].first, waiting[4].waits) = (false, true);
    let waited = run(waiting);
    assert_eq!(number(waited.runs[0].jobs[0].job), 5);
    assert_eq!(waited.runs[0].why[0], "The customer of A-5 waits.");
    let later = told.order.iter().find(|one| number(one.job) == 1).unwrap();
    assert!(
        later.at.0 >= NOW.0 + 180 * MINUTE,
        "it was put aside until twelve: {later:?}"
    );
}

#[test]
fn two_at_the_bench_have_a_run_each() {
    let jobs: Vec<Job> = (1..=8)
        .map(|n| job(n, &["top_piece_replacement"], FRIDAY))
        .collect();
    let told = asked(json!({ "hands": 2 }), |given| opened(jobs, given));
    assert_eq!(told.runs.len(), 2);
    let all: std::collections::BTreeSet<_> = told
        .runs
        .iter()
        .flat_map(|run| &run.jobs)
        .map(|one| one.job)
        .collect();
    assert_eq!(all.len(), told.runs[0].jobs.len() + told.runs[1].jobs.len());
}

#[test]
fn work_longer_than_half_a_day_is_done_in_pieces_and_without_hours_none_is() {
    let short: Map<_, _> = (1..=7)
        .map(|day| (field::hours(day), json!([[540, 600]])))
        .collect();
    let long = || vec![job(1, &["resole_hand_welted"], "2027-01-20")];
    let told = asked(short.into(), |given| opened(long(), given));
    assert_eq!((told.order.len(), told.unplanned.len()), (1, 0));
    let closed: Map<_, _> = (1..=7).map(|day| (field::hours(day), json!([]))).collect();
    let told = asked(closed.into(), |given| opened(long(), given));
    assert_eq!(told.unplanned[0].words, words::plan::no_hours_set());
}

#[test]
fn the_day_to_suggest_is_later_the_more_there_is_and_full_days_say_so() {
    let new = || vec![job(99, &["resole_cemented"], "")];
    let free = days(Vec::new(), new());
    // Cement dries, and the day is long enough.
    assert_eq!(free.suggested, Day::parse(TODAY));
    // The time of day is suggested too.
    let from = free.from.as_deref().unwrap();
    assert!(from.ends_with(":00") || from.ends_with(":30"), "{free:?}");
    assert!(("10:00".."18:00").contains(&from), "{free:?}");
    let many: Vec<Job> = (1..=16)
        .map(|n| job(n, &["resole_cemented", "clean_condition_polish"], FRIDAY))
        .collect();
    let busy = days(many.clone(), new());
    assert!(busy.suggested > free.suggested, "{busy:?}");
    assert!(busy.days[0].full && !free.days[0].full);
    let kept: Vec<f64> = busy.days.iter().filter_map(|day| day.kept).collect();
    assert!(kept.windows(2).all(|two| two[0] <= two[1]), "{kept:?}");
    // Two pairs of one ticket are done when both are; with no new work only the load of the days is returned.
    let two = days(many.clone(), [new(), new()].concat());
    assert!(two.suggested >= busy.suggested);
    let load = days(many, Vec::new());
    assert!(load.suggested.is_none() && load.days.iter().all(|day| day.kept.is_none()));
}

/// Any job that a phone may contain: with any operations or none, any day or none, and waits that ended long ago or end
/// far ahead.
fn any_job() -> impl Strategy<Value = Job> {
    let code = prop_oneof![
        4 => prop::sample::select(operations().map(|known| known.code).collect::<Vec<_>>()),
        1 => Just("the shop's own"),
    ];
    let day = prop::sample::select(vec![
        "",
        TODAY,
        FRIDAY,
        "2026-01-01",
        "soon",
        "9999-12-31",
        "2027-02-29",
    ]);
    let dry = prop::option::of((-3_000_000_000_000_i64..3_000_000_000_000, any::<bool>()));
    (prop::collection::vec(code, 0..5), day, dry, any::<[bool; 6]>()).prop_map(|(codes, day, dry, flags)| {
        let of = codes.first().copied().unwrap_or_default();
        Job {
            dry: dry.map(|(at, own)| (UnixMs(NOW.0.saturating_add(at)), own.then(|| of.to_owned()))),
            rush: flags[0],
            complaint: flags[1],
            first: flags[2],
            put_aside: flags[3].then_some(UnixMs(NOW.0 + 180 * MINUTE)),
            held: flags[4],
            begun: flags[5],
            ..job(0, &codes, day)
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Every job is planned, held or reported as unplanned.
    #[test]
    fn no_job_is_lost(jobs in prop::collection::vec(any_job(), 0..8)) {
        let jobs: Vec<Job> = jobs.into_iter().zip(1..).map(|(one, n)| Job { id: SubjectId(Uuid::from_u128(n)), ..one }).collect();
        let told = run(jobs.clone());
        let mut known: Vec<u128> = told.order.iter().map(|one| number(one.job)).collect();
        known.extend(told.unplanned.iter().map(|one| number(one.job)));
        known.sort_unstable();
        let free = jobs.iter().filter(|job| !job.held).map(|job| number(job.id));
        prop_assert_eq!(known, free.collect::<Vec<_>>());
        let days = days(jobs, vec![job(9, &["half_sole"], "")]);
        prop_assert!(days.days.iter().all(|day| (0.0..=1.0).contains(&day.load)));
    }
}
