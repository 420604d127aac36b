use crate::price::minor::Minor;
use uuid::Uuid;

use super::*;
use crate::log::body::{Decision, Side};
use crate::log::entry::SubjectId;
use crate::price::records::{At, FoundDamage, JobFacts, LineFact, StepFact, Thickness};
use crate::trade::{Component, Condition};

const DAY_MS: i64 = 86_400_000;

fn at(day: i64) -> At {
    // 2025-01-01 and so many days, at noon.
    At((20_089 + day) * DAY_MS + DAY_MS / 2, 0)
}

/// A job that came and went on a day, with these operations agreed and done.
fn visit(n: u128, day: i64, operations: &[&str]) -> JobFacts {
    let step = |operation: &&str| StepFact {
        pieces: 1,
        operation: (*operation).into(),
        side: Side::Both,
        minutes: None,
        person: None,
        at: at(day),
        used: Vec::new(),
        redone: false,
        scrap: String::new(),
        cement: None,
    };
    let line = |operation: &&str| LineFact {
        pieces: 1,
        variant: None,
        operation: (*operation).into(),
        side: Side::Both,
        price_minor: Minor(1_000),
        gift: None,
        damage: None,
    };
    JobFacts {
        job: SubjectId(Uuid::from_u128(n)),
        ticket: None,
        goods: Goods::LowShoe,
        guessed: None,
        opened_as: None,
        soles: Vec::new(),
        lines: operations.iter().map(line).collect(),
        found: Vec::new(),
        parts: Vec::new(),
        steps: operations.iter().map(step).collect(),
        people: Vec::new(),
        thickness: Vec::new(),
        complaint: None,
        tax: None,
        opened_at: Some(at(day)),
        ready_at: Some(at(day)),
        handed_over_at: Some(at(day)),
        unrepaired: false,
    }
}

fn damaged(mut job: JobFacts, part: Component, decision: Option<Decision>) -> JobFacts {
    job.found.push(FoundDamage {
        part,
        condition: Condition::WornDown,
        side: Side::Left,
        inside: false,
        decision,
        pays: None,
        at: at(0),
    });
    job
}

#[test]
fn a_part_is_followed_from_visit_to_visit() {
    let kept = damaged(
        visit(3, 200, &["stretch"]),
        Component::TopPiece,
        Some(Decision::Keep),
    );
    let jobs = [
        visit(4, 300, &["top_piece_replacement"]),
        visit(1, 0, &["top_piece_replacement", "half_sole"]),
        kept,
        visit(2, 100, &["clean_condition_polish"]),
    ];
    let all = fitted(&jobs);
    let of = |n: u128, operation: &str| {
        let id = SubjectId(Uuid::from_u128(n));
        all.iter()
            .find(|one| one.job == id && one.operation == operation)
            .unwrap()
    };
    let first = of(1, "top_piece_replacement");
    let worn = first.worn.unwrap();
    assert_eq!(
        (first.good_days, worn.days, worn.came_for_it, first.still_on()),
        (200, 300, true, false)
    );
    let sole = of(1, "half_sole");
    assert_eq!((sole.good_days, sole.worn, sole.still_on()), (300, None, true));
    assert_eq!((of(4, "top_piece_replacement").good_days, all.len()), (0, 3));
}

#[test]
fn worn_and_left_is_worn_but_still_on() {
    let seen = damaged(visit(2, 150, &["stretch"]), Component::TopPiece, None);
    let jobs = [
        visit(1, 0, &["top_piece_replacement"]),
        seen,
        visit(3, 180, &["top_piece_replacement"]),
    ];
    let before = fitted(&jobs[..2]);
    assert!(before[0].still_on() && before[0].worn.unwrap().days == 150);
    let worn = fitted(&jobs)[0].worn.unwrap();
    assert_eq!(
        (worn.days, worn.came_for_it, worn.renewed),
        (150, false, true),
        "it was seen while here for something else"
    );
}

#[test]
fn who_comes_because_of_it_comes_soon() {
    let lives = |days: i64, came_for_it: bool, good_days: i64| {
        let part = Fitted {
            operation: "top_piece_replacement".into(),
            part: Component::TopPiece,
            job: SubjectId(Uuid::from_u128(1)),
            on: at(0).day().unwrap(),
            by: None,
            good_days,
            worn: Some(Worn {
                job: SubjectId(Uuid::from_u128(2)),
                days,
                came_for_it,
                renewed: true,
            }),
            taken_off: false,
        };
        let span = span(&part).unwrap();
        (span.good, span.worn)
    };
    assert_eq!(lives(300, true, 100), (180.0, Some(300.0)));
    assert_eq!(lives(300, true, 250), (250.0, Some(300.0)));
    assert_eq!(lives(300, false, 100), (100.0, Some(300.0)));
    assert_eq!(lives(60, true, 0), (0.0, Some(60.0)));
    assert_eq!(lives(0, true, 0), (0.0, Some(1.0)), "back on the same day");
}

/// By hand from the distribution: with scale 400 and shape 2, one in four has failed after 400 √(−ln 0.75) = 214.5
/// days; of those that survived 300 days, after 400 √(0.5625 − ln 0.75) = 368.8.
#[test]
fn the_next_check_by_the_lives_of_others() {
    let life = PartLife {
        law: Law::new(400.0, 2.0, 0.0),
        parts: 40,
        worn: 20,
    };
    let fresh = fitted(&[visit(1, 0, &["half_sole"])]);
    let check = next_check(&fresh[0], &[], Some(&life)).unwrap();
    let days = |day: Day| day.count() - fresh[0].on.count();
    assert_eq!((days(check.on), check.source), (214, CheckBasis::Lives(40)));
    assert!(check.from < check.on && check.on < check.until);
    let jobs = [visit(1, 0, &["half_sole"]), visit(2, 300, &["stretch"])];
    let seen = fitted(&jobs);
    assert_eq!(days(next_check(&seen[0], &jobs, Some(&life)).unwrap().on), 368);
    assert_eq!(
        next_check(&fresh[0], &[], None),
        None,
        "no history, no measurement"
    );
    let renewed = fitted(&[visit(1, 0, &["half_sole"]), visit(2, 300, &["half_sole"])]);
    assert_eq!(next_check(&renewed[0], &[], Some(&life)), None);
}

/// A visit on which the outsole was measured: the first with this operation, the others for something else.
fn measured(n: u128, first: &str, day: i64, thickness_mm: f64) -> JobFacts {
    let mut job = visit(n, day, &[if n == 1 { first } else { "stretch" }]);
    job.thickness.push(Thickness {
        part: Component::Outsole,
        side: Side::Both,
        thickness_mm,
        at: at(day),
    });
    job
}

/// 6 mm on the first day, 5 mm after a hundred days; a half sole counts as worn at 1.5 mm, which it reaches after 450
/// days, and is checked a tenth of the remaining time earlier.
#[test]
fn the_next_check_by_its_own_wear() {
    let measured = |n: u128, day: i64, thickness_mm: f64| measured(n, "half_sole", day, thickness_mm);
    let jobs = [measured(1, 0, 6.0), measured(2, 100, 5.0)];
    let part = &fitted(&jobs)[0];
    let check = next_check(part, &jobs, None).unwrap();
    assert_eq!(
        (check.on.count() - part.on.count(), check.source),
        (415, CheckBasis::Measured(2))
    );
    assert_eq!(next_check(part, &jobs[..1], None), None, "one measurement only");
    let mut worn_off = jobs;
    worn_off[0].thickness[0].at.0 -= DAY_MS / 4;
    assert_eq!(
        next_check(part, &worn_off, None),
        None,
        "what was measured before the step was the old part"
    );
    let thicker = [measured(1, 0, 5.0), measured(2, 100, 6.0)];
    assert_eq!(next_check(part, &thicker, None), None, "it did not wear");
}

#[test]
fn a_guard_over_a_new_sole_leaves_the_sole_as_good_as_it_is() {
    let mut jobs = vec![
        visit(1, 0, &["resole_welted"]),
        visit(2, 40, &["sole_guard"]),
        visit(3, 300, &["sole_guard"]),
    ];
    let all = fitted(&jobs);
    let [sole, guard, last] = &all[..] else {
        panic!("{all:?}")
    };
    assert_eq!((sole.good_days, sole.worn, sole.still_on()), (300, None, true));
    assert_eq!(
        (&guard.part, guard.worn.unwrap().days),
        (&Component::SoleGuard, 260)
    );
    assert!(last.still_on());
    jobs.push(visit(4, 500, &["resole_welted"]));
    let all = fitted(&jobs);
    assert!(all[0].worn.unwrap().renewed, "the sole was renewed");
    assert!(
        all[2].taken_off && all[2].worn.is_none() && !all[2].still_on(),
        "nothing says that the guard was worn out when it came off with the sole"
    );
}

/// Before guards were parts, damage to a guard was written down as of the outsole.
#[test]
fn damage_seen_under_a_guard_is_the_guards_unless_it_was_found_inside() {
    let seen = |inside| {
        let mut job = damaged(visit(3, 300, &["stretch"]), Component::Outsole, None);
        job.found[0].at = at(300);
        job.found[0].inside = inside;
        let jobs = [
            visit(1, 0, &["resole_welted"]),
            visit(2, 40, &["sole_guard"]),
            job,
        ];
        let worn = fitted(&jobs).into_iter().map(|part| part.worn.is_some());
        worn.collect::<Vec<_>>()
    };
    assert_eq!(seen(false), [false, true]);
    assert_eq!(seen(true), [true, false]);
}

/// A guard counts as worn at 1 mm: 1.8 mm when new and 1.6 mm after a hundred days reach it after 400 days, and a
/// tenth of the remaining time earlier is after 370.
#[test]
fn a_new_guard_is_not_worn_out() {
    let guard = |n: u128, day, mm| measured(n, "sole_guard", day, mm);
    let jobs = [guard(1, 0, 1.8), guard(2, 100, 1.6)];
    let part = &fitted(&jobs)[0];
    let check = next_check(part, &jobs, None).unwrap();
    assert_eq!(
        (check.on.count() - part.on.count(), check.source),
        (370, CheckBasis::Measured(2))
    );
}

#[test]
fn measures_that_forecast_nothing_say_why() {
    let why = |all: &[(i64, f64)]| {
        let jobs: Vec<_> = (1..)
            .zip(all)
            .map(|(n, (day, mm))| measured(n, "half_sole", *day, *mm))
            .collect();
        let part = &fitted(&jobs)[0];
        let check = next_check(part, &jobs, None);
        let why = why_no_forecast(part, &jobs);
        assert_eq!(check.is_none(), why.is_some());
        why.unwrap_or_default()
    };
    assert_eq!(
        why(&[(0, 6.0), (1, 5.9)]),
        "The measures lie only 1 day apart: measure again on 29 January 2025 or later."
    );
    assert_eq!(
        why(&[(0, 6.0)]),
        "It was measured on one day only: measure again on 29 January 2025 or later."
    );
    assert_eq!(
        why(&[(0, 5.0), (100, 5.0)]),
        "Between the measures it has hardly worn."
    );
    assert_eq!(why(&[(0, 6.0), (100, 5.0)]), "");
    assert_eq!(
        why_no_forecast(&fitted(&[visit(1, 0, &["half_sole"])])[0], &[]),
        None
    );
}

/// The limit of a half sole is 1.5 mm: 1.8 and 1.4 mm are past it, and 1.4 and 1.3 were so from the first.
#[test]
fn what_is_worn_already_is_due_when_it_was_last_measured_and_never_before() {
    for (first, last) in [(1.8, 1.4), (1.4, 1.3)] {
        let jobs = [
            measured(1, "half_sole", 0, first),
            measured(2, "half_sole", 100, last),
        ];
        let part = &fitted(&jobs)[0];
        let check = next_check(part, &jobs, None).unwrap();
        let on = Day::counted(part.on.count() + 100).unwrap();
        assert_eq!(
            (check.on, check.from, check.until),
            (on, on, on),
            "{first} {last}"
        );
        let today = Day::counted(on.count() + 50).unwrap();
        let told = check.told_on(today);
        assert_eq!((told.on, told.from, told.until), (today, today, today));
    }
}

#[test]
fn too_few_or_all_alike_is_no_law() {
    let mut lives = PartLives::default();
    let jobs = [visit(1, 0, &["half_sole"]), visit(2, 300, &["half_sole"])];
    for _ in 0..4 {
        lives.add(&Goods::LowShoe, &fitted(&jobs), at(300).day());
    }
    assert_eq!(lives.life("half_sole", &Goods::LowShoe), None);
    for _ in 0..20 {
        lives.add(&Goods::LowShoe, &fitted(&jobs), at(300).day());
    }
    assert_eq!(lives.life("half_sole", &Goods::LowShoe), None, "all alike");
    assert_eq!(lives.life("stretch", &Goods::LowShoe), None);
}

/// Parts seen at visits that do not depend on their state: the fit finds the distribution that they were drawn from (by
/// a fixed sequence, scale 400 days, shape 2.5), within a tenth.
#[test]
fn the_law_is_found_again_from_visits() {
    let mut lives = PartLives::default();
    let mut state = 7u64;
    let mut unit = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((state >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    };
    for _ in 0..600 {
        let life = 400.0 * (-unit().ln()).powf(1.0 / 2.5);
        let mut jobs = vec![visit(1, 0, &["half_sole"])];
        let mut day = 0.0;
        for n in 2..8 {
            day += 60.0 + 240.0 * unit();
            let mut job = visit(n, day as i64, &["stretch"]);
            if day > life {
                job = damaged(job, Component::Outsole, None);
            }
            jobs.push(job);
        }
        lives.add(&Goods::LowShoe, &fitted(&jobs), at(2_000).day());
    }
    let got = lives.life("half_sole", &Goods::LowShoe).unwrap();
    assert!(
        (got.law.scale / 400.0 - 1.0).abs() < 0.1 && (got.law.shape / 2.5 - 1.0).abs() < 0.15,
        "{got:?}"
    );
    assert_eq!(got.parts, 600);
}
