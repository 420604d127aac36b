use serde_json::{Value, json};
use uuid::Uuid;

use super::*;

const HANNE: u128 = 7;
const IVO: u128 = 8;

/// A finished job with these steps and fields of its own.
fn job(n: u128, steps: &[Value], more: Value) -> JobFacts {
    let mut facts = json!({
        "j": Uuid::from_u128(n), "g": "low_shoe", "e": ["rubber_sole"], "s": steps,
        "p": [Uuid::from_u128(HANNE), Uuid::from_u128(IVO)], "a": [0, 0], "b": [0, 0],
    });
    let Value::Object(more) = more else {
        panic!("not fields: {more}");
    };
    facts.as_object_mut().unwrap().extend(more);
    serde_json::from_value(facts).unwrap()
}

/// A half sole by the first or the second person, with a cement, made again or not.
fn half_sole(person: u32, cement: &str, again: bool) -> Value {
    json!({"o": "half_sole", "a": [0, 0], "p": person, "c": cement, "r": again})
}

/// A job that makes good an operation of another one.
fn complaint(n: u128, of: u128, operation: &str, cause: Option<&str>) -> JobFacts {
    let made_good = json!({"x": {"j": Uuid::from_u128(of), "o": operation, "c": cause}});
    job(n, &[], made_good)
}

fn asked(by: RedoneBy, jobs: &[JobFacts]) -> RedoneShares {
    let fields = json!({"cement/neoprene": {"product": "The red tin"}});
    let people = json!([[Uuid::from_u128(HANNE), "Hanne"], [Uuid::from_u128(IVO), "Ivo"]]);
    let shop = serde_json::from_value(json!({"fields": fields, "people": people})).unwrap();
    shares(&RedoneQuery { shop, by }, jobs)
}

/// Name, how often it was done, and how often again.
fn told(by: RedoneBy, jobs: &[JobFacts]) -> Vec<(String, u32, u32)> {
    let rows = asked(by, jobs).rows.into_iter();
    rows.map(|row| (row.name, row.done, row.again)).collect()
}

/// Twelve half soles: one is made again before it leaves, one comes back because the cement let go.
fn a_year() -> Vec<JobFacts> {
    let mut jobs: Vec<JobFacts> = (1..=10)
        .map(|n| job(n, &[half_sole(0, "neoprene", false)], json!({})))
        .collect();
    let again = [
        half_sole(1, "neoprene", true),
        half_sole(0, "polyurethane", false),
    ];
    jobs.push(job(11, &again, json!({})));
    jobs.push(job(12, &[half_sole(1, "polyurethane", false)], json!({})));
    jobs.push(complaint(20, 12, "half_sole", Some("bond")));
    jobs
}

/// By hand: 2 of 12 from a flat prior are Beta(3, 11), whose mean is 3/14; its bounds by numeric integration.
#[test]
fn what_was_made_again_and_what_came_back_is_a_share_of_what_was_done() {
    let rows = asked(RedoneBy::Operation, &a_year()).rows;
    assert_eq!(rows.len(), 1);
    let row = &rows[0];
    assert_eq!((row.name.as_str(), row.done, row.again), ("Half soles", 12, 2));
    let [low, high] = row.between.unwrap();
    assert!(
        (low - 0.0504).abs() < 1e-4 && (high - 0.4545).abs() < 1e-4,
        "{low} {high}"
    );
}

#[test]
fn the_step_that_failed_counts_against_its_cement_and_its_person() {
    let named = |name: &str, done, again| (name.to_owned(), done, again);
    assert_eq!(
        told(RedoneBy::Cement, &a_year()),
        [
            named("The red tin", 11, 1),
            named("Polyurethane contact cement", 2, 1)
        ],
        "a product is called as the shop calls it; two are too few to come first"
    );
    assert_eq!(
        told(RedoneBy::Person, &a_year()),
        [named("Hanne", 11, 0), named("Ivo", 2, 2)]
    );
    assert_eq!(told(RedoneBy::Sole, &a_year()), [named("Rubber sole", 12, 2)]);
}

#[test]
fn too_little_work_has_no_share() {
    let few = asked(RedoneBy::Operation, &a_year()[7..12]);
    assert_eq!((few.rows[0].done, few.rows[0].between.is_some()), (5, true));
    let fewer = asked(RedoneBy::Operation, &a_year()[8..12]);
    assert_eq!((fewer.rows[0].done, fewer.rows[0].between), (4, None));
}

#[test]
fn only_what_the_shop_is_the_cause_of_counts() {
    for (cause, ours) in [
        ("our_work", 1),
        ("material", 1),
        ("bond", 1),
        ("seam", 1),
        ("fit", 1),
        ("colour", 1),
        ("not_as_agreed", 1),
        ("hidden_damage", 0),
        ("use", 0),
        ("wear", 0),
        ("other", 0),
        ("moonlight", 0),
    ] {
        let jobs = [
            job(1, &[half_sole(0, "neoprene", false)], json!({})),
            complaint(2, 1, "half_sole", Some(cause)),
        ];
        let again = told(RedoneBy::Operation, &jobs)[0].2;
        assert_eq!(again, ours, "{cause}");
    }
    let unknown = [
        job(1, &[half_sole(0, "neoprene", false)], json!({})),
        complaint(2, 1, "half_sole", None),
        complaint(3, 9, "half_sole", Some("bond")),
    ];
    let shares = asked(RedoneBy::Operation, &unknown);
    assert_eq!((shares.rows[0].again, shares.without_cause), (0, 1));
}

#[test]
fn work_without_a_step_counts_once_it_is_finished_and_can_come_back() {
    let line = json!({"l": [{"o": "stretch"}]});
    let jobs = [job(1, &[], line.clone()), complaint(2, 1, "stretch", Some("fit"))];
    let stretched = &told(RedoneBy::Operation, &jobs)[0];
    assert_eq!((stretched.1, stretched.2), (1, 1));
    assert!(
        told(RedoneBy::Person, &jobs).is_empty(),
        "nobody noted who did it"
    );
    assert!(
        told(RedoneBy::Sole, &jobs).is_empty(),
        "without cement nothing is bonded to the sole"
    );
    let mut open = job(1, &[], line);
    open.ready_at = None;
    assert!(told(RedoneBy::Operation, &[open]).is_empty());
}
