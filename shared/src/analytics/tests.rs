use crate::price::minor::Minor;
use serde_json::{Value, json};
use uuid::Uuid;

use super::*;
use crate::log::entry::SubjectId;
use crate::price::records::{At, JobFacts};
use crate::trade::Goods;

/// A row of a pair whose half soles were done in so many minutes for 38.00, in December 2025.
fn row(n: u128, minutes: i64) -> String {
    let (job, ticket) = (Uuid::from_u128(n), Uuid::from_u128(n + 1_000));
    // 2025-12-15T09:00:00Z and so many minutes later; every pair is on a day of its own.
    let start = 1_765_789_200 - i64::try_from(n).unwrap() * 86_400;
    let at = |minute: i64| json!([(start + minute * 60) * 1_000, 0]);
    let person = Uuid::from_u128(7);
    json!({"facts": {
        "j": [{"j": job, "t": ticket, "g": "low_shoe", "l": [{"o": "half_sole", "p": 3_800}],
               "s": [{"o": "half_sole", "a": at(minutes + 10), "p": 0}], "p": [person], "a": at(0), "b": at(300), "h": at(300)}],
        "t": [{"t": ticket, "m": [{"m": 3_800, "w": "balance", "a": at(300)}]}],
        "a": [{"p": [person], "o": ["", "half_sole"],
               "a": [[start, 0, 0, 0, 1, 0], [600, 0, 0, 1, 0, 0], [minutes * 60, 0, 0, 1, 0, 0]]}],
    }})
    .to_string()
}

fn rows() -> Vec<String> {
    (0..12).map(|n| row(n, 30 + i64::try_from(n).unwrap())).collect()
}

fn known() -> ShopSettings {
    serde_json::from_value(json!({
        "fields": {"hourly_target": 4_000, "currency": "EUR"},
        "people": [[Uuid::from_u128(7), "Hanne"]],
    }))
    .unwrap()
}

fn ask<Q: AnalyticsQuery>(asked: &Q, rows: &[String]) -> Value {
    let (name, text) = question(asked, rows);
    serde_json::from_str(&answer(name, &text).unwrap()).unwrap()
}

#[test]
fn the_profitability_of_a_line_rests_on_its_jobs_and_names_a_price() {
    let asked = |norms| ProfitabilityQuery {
        shop: known(),
        goods: Goods::LowShoe,
        codes: vec!["sole_guard".into(), "half_sole".into()],
        norms,
    };
    let done = ask(&asked(false), &rows());
    assert_eq!(
        done.as_array().unwrap().len(),
        1,
        "what was never done rests on norms"
    );
    assert_eq!(
        (&done[0]["code"], &done[0]["jobs"]),
        (&json!("half_sole"), &json!(12))
    );
    let needed = done[0]["needed"].as_i64().unwrap();
    // Some 36 minutes at 40.00 an hour are 24.00, and the price must also cover the risk.
    assert!((2_400..4_500).contains(&needed), "{needed}");
    let all = ask(&asked(true), &rows());
    assert_eq!(
        all[1]["told"][0],
        json!("Norms only: no finished job of this yet.")
    );
}

#[test]
fn a_price_that_falls_short_is_told_and_what_was_learnt_is_kept() {
    let asked = |minor| Loss {
        shop: known(),
        pairs: vec![PairOffered {
            goods: Goods::LowShoe,
            guessed: None,
            lines: vec![("half_sole".into(), minor)],
        }],
    };
    let cheap = ask(&asked(Minor(1_000)), &rows())[0].as_f64().unwrap();
    let dear = ask(&asked(Minor(9_000)), &[])[0].as_f64().unwrap();
    assert!(cheap > 0.9 && dear < 0.1, "{cheap} {dear}");
}

/// The first question of a day can come from a screen that does not read the shelf.
#[test]
fn material_costs_what_the_question_says_also_where_the_statistics_were_learnt_before() {
    let asked = |shop| Loss {
        shop,
        pairs: vec![PairOffered {
            goods: Goods::LowShoe,
            guessed: None,
            lines: vec![("half_sole".into(), Minor(9_000))],
        }],
    };
    let of_gold: ShopSettings = serde_json::from_value(json!({
        "fields": {
            "hourly_target": 4_000,
            "stock/half_sole": [{"material": "gold", "unit": "pair", "cost_minor": 8_000, "quantity": 1.0}],
        },
        "people": [],
    }))
    .unwrap();
    let cheap = ask(&asked(known()), &rows())[0].as_f64().unwrap();
    let dear = ask(&asked(of_gold), &[])[0].as_f64().unwrap();
    let again = ask(&asked(known()), &[])[0].as_f64().unwrap();
    assert!(cheap < 0.1 && dear > 0.9, "{cheap} {dear}");
    assert!((again - cheap).abs() < 1e-9, "{again}");
}

#[test]
fn the_books_have_a_row_a_month_and_a_file() {
    let asked = |by| TheBooks {
        shop: known(),
        months: months_back("2025-12-31", 12),
        by,
    };
    let told: BooksTable = serde_json::from_value(ask(&asked(By::Month), &rows())).unwrap();
    assert_eq!(told.rows.len(), 12);
    let december = told.rows.last().unwrap();
    assert_eq!(
        (december.name.as_str(), december.bars[0]),
        ("December 2025", Minor(12 * 3_800))
    );
    assert!(told.csv.contains("2025-12,12,456.00"), "{}", told.csv);
    let people: BooksTable = serde_json::from_value(ask(&asked(By::Person), &rows())).unwrap();
    assert_eq!(people.rows[0].name, "Hanne");
}

/// A row of a ticket on which laces were sold for 4.00 in December 2025.
fn sale(ticket: Uuid) -> String {
    let at = json!([1_765_789_200_000_i64, 0]);
    let sold = json!([{"w": "laces", "m": 400, "a": at, "p": Uuid::from_u128(7)}]);
    json!({"facts": {"t": [{"t": ticket, "s": sold}]}}).to_string()
}

#[test]
fn goods_have_a_row_of_their_own_in_the_books() {
    let asked = |by| TheBooks {
        shop: known(),
        months: months_back("2025-12-31", 12),
        by,
    };
    // The ticket of the first pair has facts of its own, which count once.
    let all: Vec<String> = rows()
        .into_iter()
        .chain([sale(Uuid::from_u128(1_000)), sale(Uuid::from_u128(9_000))])
        .collect();
    let charged = |by| -> Vec<(String, Minor)> {
        let told: BooksTable = serde_json::from_value(ask(&asked(by), &all)).unwrap();
        told.rows.into_iter().map(|row| (row.name, row.bars[0])).collect()
    };
    let goods = words::analytics::sundries().to_owned();
    assert!(charged(By::Operation).contains(&(goods, Minor(400))));
    assert_eq!(
        charged(By::Person),
        [("Hanne".to_owned(), Minor(12 * 3_800 + 400))]
    );
    let december = charged(By::Month).pop().unwrap();
    assert_eq!(december.1, Minor(12 * 3_800 + 400));
}

#[test]
fn minutes_are_those_of_the_day() {
    let took = ask(
        &Took {
            job: SubjectId(Uuid::from_u128(3)),
        },
        &rows(),
    );
    let minutes: f64 = took
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one[1].as_f64().unwrap())
        .sum();
    assert!((33.0..50.0).contains(&minutes), "{minutes}");
}

#[test]
fn without_history_nothing_is_foretold_and_nothing_breaks() {
    let asked = Looks {
        own: Vec::<JobFacts>::new(),
        leaving: Some((SubjectId(Uuid::from_u128(1)), At(0, 0))),
        today: "soon".to_owned(),
    };
    assert_eq!(ask(&asked, &[]), json!([]));
    assert!(answer("weather", "{}").is_err() && answer("truth", "no question").is_err());
    assert_eq!(
        answer("took", &format!("{{\"job\":\"{}\"}}\nno row\n{{}}", Uuid::nil())).as_deref(),
        Ok("[]")
    );
}

#[test]
fn months_go_back_over_new_year() {
    assert_eq!(
        months_back("2026-02-28", 4),
        ["2026-02", "2026-01", "2025-12", "2025-11"]
    );
    assert!(months_back("soon", 4).is_empty());
}

/// Compares the answer with the stored one; the browser is asked the same in `e2e/stories/figures.spec.ts`.
fn same_as_kept(name: &str, text: &str, told: &str) {
    let answered = answer(name, text).unwrap();
    let told: Value = serde_json::from_str(told).unwrap();
    assert_eq!(
        serde_json::from_str::<Value>(&answered).unwrap(),
        told,
        "{answered}"
    );
}

#[test]
fn a_question_has_the_same_answer_here_and_in_the_browser() {
    same_as_kept(
        "truth",
        include_str!("../../../e2e/fixtures/figures/truth.txt"),
        include_str!("../../../e2e/fixtures/figures/truth.json"),
    );
}

/// The plan of the same work, seed and clock is the same in both, too.
#[cfg(feature = "zones")]
#[test]
fn the_plan_is_the_same_here_and_in_the_browser() {
    same_as_kept(
        "run",
        include_str!("../../../e2e/fixtures/figures/run.txt"),
        include_str!("../../../e2e/fixtures/figures/run.json"),
    );
    same_as_kept(
        "days",
        include_str!("../../../e2e/fixtures/figures/days.txt"),
        include_str!("../../../e2e/fixtures/figures/days.json"),
    );
}
