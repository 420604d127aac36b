use uuid::Uuid;

use super::*;
use crate::log::body::{Decision, Gift, GiftWhy, Pays, Side};
use crate::log::entry::SubjectId;
use crate::price::materials::Stock;
use crate::price::minutes::Attended;
use crate::price::records::{At, FoundDamage, JobFacts, LineFact, StepFact};
use crate::trade::{Condition, exposes};

const NOON: At = At(1_740_830_400_000, 0);

fn step(operation: &str) -> StepFact {
    StepFact {
        pieces: 1,
        operation: operation.into(),
        side: Side::Both,
        minutes: None,
        person: None,
        at: NOON,
        used: Vec::new(),
        redone: false,
        scrap: String::new(),
        cement: None,
    }
}

fn line(operation: &str, price: i64, gift: Option<GiftWhy>, damage: Option<u32>) -> LineFact {
    LineFact {
        pieces: 1,
        variant: None,
        operation: operation.into(),
        side: Side::Both,
        price_minor: Minor(price),
        gift: gift.map(|why| Gift {
            why,
            worth_minor: Minor(1_800),
        }),
        damage,
    }
}

/// A cemented resole at 65.00 that took an hour; with a broken shank, another quarter of an hour.
fn resole(n: u128, shank: Option<GiftWhy>, attended: &mut Vec<Attended>) -> JobFacts {
    let job = SubjectId(Uuid::from_u128(n));
    let mut took = |operation: &str, minutes: f64| {
        attended.push(Attended {
            job,
            operation: Some(operation.into()),
            person: None,
            minutes,
            noted: false,
        });
    };
    took("resole_cemented", 50.0);
    took("sole_off", 10.0);
    let mut lines = vec![line("resole_cemented", 6_500, None, None)];
    let mut steps = vec![step("sole_off"), step("resole_cemented")];
    let mut found = Vec::new();
    if let Some(why) = shank {
        took("shank_replacement", 15.0);
        lines.push(line("shank_replacement", 0, Some(why.clone()), Some(0)));
        steps.push(step("shank_replacement"));
        found.push(FoundDamage {
            part: Component::Shank,
            condition: Condition::Broken,
            side: Side::Left,
            inside: true,
            decision: Some(Decision::Replace),
            pays: Some(if why == GiftWhy::Needed {
                Pays::ShopNeeded
            } else {
                Pays::ShopChoice
            }),
            at: NOON,
        });
    }
    JobFacts {
        job,
        ticket: None,
        goods: Goods::LowShoe,
        guessed: Some(Construction::Cemented),
        opened_as: None,
        soles: Vec::new(),
        lines,
        found,
        parts: exposes("resole_cemented", &Goods::LowShoe).to_vec(),
        steps,
        people: Vec::new(),
        thickness: Vec::new(),
        complaint: None,
        tax: None,
        opened_at: Some(NOON),
        ready_at: Some(NOON),
        handed_over_at: Some(NOON),
        unrepaired: false,
    }
}

fn stock(operation: &str) -> Vec<Stock> {
    let cost = if operation == "resole_cemented" { 500 } else { 0 };
    vec![Stock {
        material: "sole".into(),
        unit: "pair".into(),
        cost_minor: Minor(cost),
        quantity: 1.0,
        waste: 0.0,
        id: None,
    }]
}

fn shop(needed: u128, chosen: u128, sound: u128) -> JobStatistics {
    let mut attended = Vec::new();
    let why = |n| match n {
        n if n < needed => Some(GiftWhy::Needed),
        n if n < needed + chosen => Some(GiftWhy::MyChoice),
        _ => None,
    };
    let jobs: Vec<_> = (0..needed + chosen + sound)
        .map(|n| resole(n, why(n), &mut attended))
        .collect();
    JobStatistics::of(&jobs, &attended, &stock)
}

const SETTING: Setting<'_> = Setting {
    target: Some(Minor(4_000)),
    tax: None,
    stock: &stock,
    stated_rates: &|_, _, _| None,
};

/// By hand: a third of 36 jobs needed a quarter of an hour more, so 65 minutes a job on average; 60.00 after material in
/// 65 minutes is 55.38 an hour. Six more were given the same quarter of an hour, which is not in it.
#[test]
fn what_a_line_carries_and_earns() {
    let profitability = shop(12, 6, 18)
        .profitability("resole_cemented", &Goods::LowShoe, &SETTING)
        .unwrap();
    assert_eq!((profitability.jobs, profitability.materials), (36, Minor(500)));
    assert!(
        (profitability.carried_minutes - 5.0).abs() < 1e-9
            && (profitability.given_minutes - 2.5).abs() < 1e-9
    );
    assert_eq!(
        (profitability.carried_worth, profitability.given_worth),
        (Minor(600), Minor(300))
    );
    assert_eq!(profitability.earned_per_hour, Some(Minor(5_538)));
    assert!(
        (profitability.minutes.p50 - 61.0).abs() < 3.0,
        "an hour, but the norm still weighs a little: {:?}",
        profitability.minutes
    );
}

/// The target is met in four of five jobs at this price: checked by asking how often it is not met.
#[test]
fn the_price_that_meets_the_target() {
    let shop = shop(12, 0, 24);
    let profitability = shop
        .profitability("resole_cemented", &Goods::LowShoe, &SETTING)
        .unwrap();
    let needed = profitability.needed.unwrap();
    let chance = |price: Minor| {
        let lines = [("resole_cemented", price)];
        shop.loss_chance(&lines, Some(&Construction::Cemented), &Goods::LowShoe, &SETTING)
            .unwrap()
            .unwrap()
    };
    assert!((chance(needed) - 0.2).abs() < 0.01, "{}", chance(needed));
    assert!(chance(needed - Minor(500)) > 0.25 && chance(needed + Minor(1_500)) < 0.1);
    let taxed = Setting {
        tax: Some(190),
        ..SETTING
    };
    let with_tax = shop
        .profitability("resole_cemented", &Goods::LowShoe, &taxed)
        .unwrap()
        .needed
        .unwrap();
    assert!((with_tax.as_f64() / needed.as_f64() - 1.19).abs() < 1e-3);
    let on_top = Setting {
        tax: Some(-190),
        ..SETTING
    };
    assert_eq!(
        shop.profitability("resole_cemented", &Goods::LowShoe, &on_top)
            .unwrap()
            .needed,
        Some(needed)
    );
}

#[test]
fn without_records_there_are_norms() {
    let shop = shop(0, 0, 0);
    let profitability = shop.profitability("half_sole", &Goods::Boot, &SETTING).unwrap();
    assert_eq!(
        (
            profitability.jobs,
            profitability.earned_per_hour,
            profitability.carried_worth
        ),
        (0, None, Minor::ZERO)
    );
    assert!((profitability.minutes.p50 - f64::sqrt(25.0 * 40.0)).abs() < 1e-9);
    assert!(
        profitability.needed > Some(Minor(2_000)) && profitability.needed < Some(Minor(5_000)),
        "{profitability:?}"
    );
    let unset = Setting {
        target: None,
        ..SETTING
    };
    let profitability = shop.profitability("half_sole", &Goods::Boot, &unset).unwrap();
    assert_eq!((profitability.needed, profitability.allowance), (None, None));
    let absurd = Setting {
        target: Some(Minor(-5)),
        ..SETTING
    };
    assert_eq!(
        shop.profitability("half_sole", &Goods::Boot, &absurd)
            .unwrap_err()
            .field,
        "rate_per_hour"
    );
    let own_word = shop
        .profitability("bell repair", &Goods::from("hat"), &SETTING)
        .unwrap();
    assert!(own_word.minutes.check().is_ok());
}

/// The repairer's estimate ("of ten such pairs, how many?") weighs five pairs, so ten sound pairs take two thirds of it
/// away.
#[test]
fn the_repairers_word_holds_until_pairs_speak() {
    let stated_rates =
        |_: &str, _: Option<&Construction>, part: &Component| (*part == Component::Shank).then_some(4.0);
    let rate = |shop: &JobStatistics| {
        let all = shop.hidden(
            "resole_cemented",
            Some(&Construction::Cemented),
            &Goods::LowShoe,
            &stated_rates,
        );
        all.into_iter()
            .find(|(part, _)| *part == Component::Shank)
            .unwrap()
            .1
            .mean()
    };
    assert!((rate(&shop(0, 0, 0)) - 0.4).abs() < 1e-12);
    assert!((rate(&shop(0, 0, 10)) - 2.0 / 15.0).abs() < 1e-12);
    assert!(
        (rate(&shop(5, 5, 0)) - 7.0 / 15.0).abs() < 1e-12,
        "what was given by choice does not count"
    );
}

#[test]
fn what_was_never_opened_is_not_counted_as_sound() {
    let mut attended = Vec::new();
    let closed = JobFacts {
        parts: Vec::new(),
        ..resole(1, None, &mut attended)
    };
    let shop = JobStatistics::of(&[closed], &attended, &stock);
    let stated_rates = |_: &str, _: Option<&Construction>, _: &Component| Some(2.0);
    let all = shop.hidden(
        "resole_cemented",
        Some(&Construction::Cemented),
        &Goods::LowShoe,
        &stated_rates,
    );
    assert!(all.iter().all(|(_, rate)| (rate.weight() - 5.0).abs() < 1e-12));
}

/// An extra that the customer pays for did not open the part it repairs: the resole did, and found the damage.
#[test]
fn an_extra_is_no_opener() {
    let mut attended = Vec::new();
    let mut jobs = Vec::new();
    for n in 0..10 {
        let mut job = resole(n, Some(GiftWhy::Needed), &mut attended);
        if n < 6 {
            job.lines[1] = line("shank_replacement", 9_900, None, Some(0));
            job.found[0].pays = Some(Pays::Customer);
        }
        jobs.push(job);
    }
    let stated_rates = |_: &str, _: Option<&Construction>, _: &Component| Some(2.0);
    let all = JobStatistics::of(&jobs, &attended, &stock);
    let rates = all.hidden(
        "resole_cemented",
        Some(&Construction::Cemented),
        &Goods::LowShoe,
        &stated_rates,
    );
    let (_, shank) = rates.iter().find(|(part, _)| *part == Component::Shank).unwrap();
    assert!(
        (shank.alpha - 5.0).abs() < 1e-12 && (shank.beta - 10.0).abs() < 1e-12,
        "four of ten: {shank:?}"
    );
}
