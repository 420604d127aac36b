//! `waxend calc` and `waxend plan`: every input gets an answer or a refusal of one line.

use serde_json::Value;
use shared::plan::{Instance, SolveLimits, json, solve};
use shared::trade::calc::{CALCULATIONS, calc as reckon};

use crate::{headed, text};

/// The input: the name of a calculation on the first line, then its JSON.
pub(crate) fn calc(data: &[u8]) {
    let Some((name, asked)) = headed(data) else { return };
    match reckon(name, asked) {
        Ok(answer) => {
            assert!(answer.is_object());
            let written = answer.to_string();
            serde_json::from_str::<Value>(&written).unwrap();
        }
        Err(refused) => assert!(!refused.to_string().contains('\n'), "{refused}"),
    }
}

/// The input: an instance of the bench plan. Only small instances are planned; how long a large one takes is not tested
/// here.
pub(crate) fn plan(data: &[u8]) {
    let Some(text) = text(data) else { return };
    let instance = match json::instance(text) {
        Ok(instance) => instance,
        Err(refused) => return assert!(!refused.to_string().contains('\n'), "{refused}"),
    };
    let written = serde_json::to_string(&instance).unwrap();
    let again: Instance = json::instance(&written).unwrap();
    assert_eq!(again.pairs.len(), instance.pairs.len());
    let operations: usize = instance.pairs.iter().map(|pair| pair.operations.len()).sum();
    if operations > 8
        || instance
            .windows
            .as_ref()
            .is_some_and(|windows| windows.len() > 40)
    {
        return;
    }
    let limits = SolveLimits {
        iterations: Some(30),
        bound: true,
        ..SolveLimits::default()
    };
    let plan = solve(&instance, &limits).unwrap();
    assert_eq!(
        plan,
        solve(&instance, &limits).unwrap(),
        "the same instance gives the same plan"
    );
    assert!(
        plan.blocks
            .iter()
            .all(|block| block.start <= block.end && block.start >= instance.now)
    );
}

pub(crate) fn calc_seeds() -> Vec<Vec<u8>> {
    let questions: Vec<Value> = serde_json::from_str(include_str!("../../http/questions.json")).unwrap();
    assert_eq!(questions.len(), CALCULATIONS.len());
    questions
        .iter()
        .map(|one| format!("{}\n{}", one["name"].as_str().unwrap(), one["ask"]).into_bytes())
        .collect()
}

pub(crate) fn plan_seeds() -> Vec<Vec<u8>> {
    let small = serde_json::json!({
        "now": 540, "workers": 2, "windows": [[540, 780], [840, 1080]],
        "pairs": [
            {"tag": "A-1", "due": 900, "weight": 2, "operations": [
                {"name": "cement", "minutes": 11, "minutes_p90": 20, "wait_min": 15, "join_within": 55, "rejoin_minutes": 5},
                {"name": "press", "minutes": 17, "wait_min": 60, "setup": "press", "setup_minutes": 3}],
             "hidden": [{"chance": 0.2, "minutes": 20, "wait_min": 5}]},
            {"tag": "A-2", "ready": 600, "first": true, "operations": [{"name": "trim", "minutes": 10}]},
        ],
    });
    let bare =
        r#"{"now":0,"pairs":[{"tag":"B","join_by":30,"rejoin_minutes":4,"operations":[{"minutes":5}]}]}"#;
    vec![small.to_string().into_bytes(), bare.as_bytes().to_vec()]
}
