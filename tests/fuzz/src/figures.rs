//! Questions to the analytics worker: the question's name on the first line, the question as JSON on the second, then
//! rows.

use serde_json::Value;
use shared::analytics::answer;

use crate::headed;

/// Every input gets an answer as JSON or a refusal in words.
pub(crate) fn question(data: &[u8]) {
    let Some((name, asked)) = headed(data) else { return };
    if let Ok(told) = answer(name, asked) {
        serde_json::from_str::<Value>(&told).unwrap();
    }
}

pub(crate) fn seeds() -> Vec<Vec<u8>> {
    let truth: Value =
        serde_json::from_str(include_str!("../../../e2e/fixtures/figures/truth.json")).unwrap();
    drop(truth);
    let asked = include_str!("../../../e2e/fixtures/figures/truth.txt");
    let (first, rows) = asked.split_once('\n').unwrap();
    let row = rows.lines().next().unwrap_or_default();
    let shop = serde_json::from_str::<Value>(first).unwrap()["shop"].clone();
    let id = uuid::Uuid::from_u128(1 << 127 | 5);
    let one = |name: &str, question: &Value| format!("{name}\n{question}\n{row}").into_bytes();
    let offered = serde_json::json!({"shop": shop, "pairs": [{"goods": "low_shoe", "guessed": null, "lines": [["half_sole", 4200]]}]});
    let run: Value = serde_json::from_str(
        include_str!("../../../e2e/fixtures/figures/run.txt")
            .lines()
            .next()
            .unwrap(),
    )
    .unwrap();
    let mut days: Value = serde_json::from_str(
        include_str!("../../../e2e/fixtures/figures/days.txt")
            .lines()
            .next()
            .unwrap(),
    )
    .unwrap();
    let mut run = run;
    for (asked, field) in [(&mut run, "pairs"), (&mut days, "jobs")] {
        if let Some(one) = asked[field].as_array_mut() {
            one.truncate(1);
        }
    }
    vec![
        one(
            "truth",
            &serde_json::json!({"shop": shop, "goods": "low_shoe", "codes": ["half_sole"], "norms": true}),
        ),
        one(
            "hidden",
            &serde_json::json!({"shop": shop, "goods": "low_shoe", "code": "half_sole", "guessed": null}),
        ),
        one(
            "books",
            &serde_json::json!({"shop": shop, "months": ["2026-03"], "by": "Operation"}),
        ),
        one("loss", &offered),
        one("took", &serde_json::json!({"job": id})),
        one(
            "looks",
            &serde_json::json!({"own": [], "leaving": null, "today": "2026-03-02"}),
        ),
        one("run", &run),
        one("days", &days),
    ]
}
