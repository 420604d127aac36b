//! `waxend plan` as a script runs it: through the binary, with good and bad input.

use std::io::Write;
use std::process::{Command, Stdio};

use serde_json::{Value, json};

/// Runs `waxend plan`. Returns its exit status, standard output and standard error.
fn plan(args: &[&str], input: &str) -> (i32, String, String) {
    let mut child = Command::new(super::WAXEND)
        .arg("plan")
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // An invalid file is reported before the input is read, so the pipe may be closed already.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    let ran = child.wait_with_output().unwrap();
    (
        ran.status.code().unwrap(),
        String::from_utf8(ran.stdout).unwrap(),
        String::from_utf8(ran.stderr).unwrap(),
    )
}

fn answer(args: &[&str], input: &Value) -> Value {
    let (status, out, err) = plan(args, &input.to_string());
    assert_eq!((status, err.as_str()), (0, ""));
    serde_json::from_str(&out).unwrap()
}

/// Four pairs with waits and windows; the optimum is known from a constraint solver (OR-Tools CP-SAT).
fn instance() -> Value {
    let operation = |minutes: u32, wait: u32| json!({"name": "sew", "minutes": minutes, "wait_min": wait});
    json!({
        "now": 0,
        "windows": [[0, 60], [90, 150], [200, 260], [300, 360]],
        "workers": 1,
        "pairs": [
            {"tag": "A-1", "ready": 0, "due": 150, "weight": 3,
             "operations": [operation(20, 30), operation(15, 60), operation(10, 0)]},
            {"tag": "A-2", "due": 30, "weight": 1, "operations": [operation(10, 0)]},
            {"tag": "A-3", "due": 200, "weight": 2, "operations": [operation(30, 120), operation(20, 0)]},
            {"tag": "A-4", "due": 90, "weight": 2, "operations": [operation(15, 20), operation(15, 0)]},
        ],
    })
}

#[test]
fn the_plan_is_answered_and_is_the_same_again() {
    let first = answer(&["--iterations", "2000", "--seed", "3"], &instance());
    assert_eq!(first["weighted_tardiness"], 300);
    assert_eq!(first["lower_bound"], 300);
    let block = first["blocks"][0].as_object().unwrap();
    let mut names: Vec<_> = block.keys().map(String::as_str).collect();
    names.sort_unstable();
    assert_eq!(names, ["end", "name", "operation", "start", "tag", "worker"]);
    assert_eq!(
        answer(&["--iterations", "2000", "--seed", "3"], &instance()),
        first
    );
    // Time is only an upper limit.
    assert_eq!(
        answer(&["--time-ms", "50"], &instance())["weighted_tardiness"],
        300
    );
}

#[test]
fn what_cannot_be_planned_is_named() {
    let mut instance = instance();
    instance["pairs"][1]["operations"][0]["minutes"] = json!(61);
    let plan = answer(&[], &instance);
    let reason = "the operation is longer than any window";
    assert_eq!(
        plan["left_out"],
        json!([{"tag": "A-2", "operation": 0, "reason": reason}])
    );
    assert_eq!(plan["pairs"].as_array().unwrap().len(), 3);
}

#[test]
fn a_day_is_promised() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("new.json");
    let new = json!({"tag": "B-7", "operations": [
        {"minutes": 20, "minutes_p90": 40, "wait_min": 30}, {"minutes": 10}],
        "hidden": [{"chance": 0.2, "minutes": 15, "wait_min": 60}]});
    std::fs::write(&file, new.to_string()).unwrap();
    let file = file.to_str().unwrap();
    let told = answer(&["--promise", file, "--confidence", "0.8"], &instance());
    assert_eq!((&told["tags"], &told["due"]), (&json!(["B-7"]), &json!(360)));
    assert!(told["days"][0]["kept"].as_f64().unwrap() >= 0.8);
    let (status, _, err) = plan(
        &["--promise", file, "--confidence", "1.5"],
        &instance().to_string(),
    );
    assert_eq!((status, err.contains("confidence")), (2, true));
}

/// Plans again after `previous`, at another minute.
fn again(previous: &Value, now: i64, change: impl FnOnce(&mut Value)) -> Value {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.json");
    std::fs::write(&file, previous.to_string()).unwrap();
    let mut later = instance();
    later["now"] = json!(now);
    change(&mut later);
    answer(&["--previous", file.to_str().unwrap()], &later)
}

fn first_of(plan: &Value) -> (String, u64) {
    let block = &plan["blocks"][0];
    (
        block["tag"].as_str().unwrap().to_owned(),
        block["operation"].as_u64().unwrap(),
    )
}

/// In opening hours nobody's next work changes because time passes.
#[test]
fn while_only_the_clock_moves_what_is_first_stays_first() {
    let mut plan = answer(&[], &instance());
    let first = first_of(&plan);
    for now in (5..=120).step_by(5) {
        plan = again(&plan, now, |_| {});
        assert_eq!(first_of(&plan), first, "at minute {now}");
        assert!(plan["blocks"][0]["start"].as_i64().unwrap() >= now);
    }
}

#[test]
fn a_former_plan_is_used_as_far_as_it_fits() {
    let plan = answer(&[], &instance());
    let (tag, _) = first_of(&plan);
    // What was first is done, and another pair has come.
    let told = again(&plan, 20, |later| {
        let pairs = later["pairs"].as_array_mut().unwrap();
        let done = pairs.iter().position(|pair| pair["tag"] == tag.as_str()).unwrap();
        pairs.remove(done);
        pairs.push(json!({"tag": "B-1", "due": 300, "operations": [{"name": "nail", "minutes": 10}]}));
    });
    assert_eq!(told["pairs"].as_array().unwrap().len(), 4);
    // A pair that is to be done first comes first, whatever stood.
    let told = again(&plan, 5, |later| {
        later["pairs"].as_array_mut().unwrap().push(json!(
            {"tag": "B-1", "first": true, "operations": [{"name": "nail", "minutes": 10}]}
        ));
    });
    assert_eq!(first_of(&told), ("B-1".to_owned(), 0));
    // One that has nothing to do with these pairs changes nothing.
    let other =
        json!({"blocks": [{"tag": "Z", "operation": 0, "name": "sew", "worker": 0, "start": 3, "end": 9}]});
    assert_eq!(again(&other, 0, |_| {})["pairs"].as_array().unwrap().len(), 4);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.json");
    std::fs::write(&file, "{}").unwrap();
    let (status, _, err) = self::plan(&["--previous", file.to_str().unwrap()], &instance().to_string());
    assert_eq!(
        (status, err.contains("previous"), err.lines().count()),
        (2, true, 1),
        "{err}"
    );
}

#[test]
fn the_field_that_is_wrong_is_named_on_one_line() {
    let with = |change: &dyn Fn(&mut Value)| {
        let mut wrong = instance();
        change(&mut wrong);
        wrong.to_string()
    };
    let minutes =
        |value: Value| with(&move |all| all["pairs"][2]["operations"][1]["minutes"] = value.clone());
    for (input, field) in [
        (minutes(json!("ten")), "pairs[2].operations[1].minutes"),
        (minutes(json!(-1)), "pairs[2].operations[1].minutes"),
        (minutes(json!(1.5)), "pairs[2].operations[1].minutes"),
        (minutes(json!(1_000_000)), "pairs[2].operations[1].minutes"),
        (with(&|all| all["windows"][1] = json!([9, 3])), "windows[1]"),
        (with(&|all| all["workers"] = json!(0)), "workers"),
        (with(&|all| all["now"] = json!(1e18)), "now"),
        (
            with(&|all| all["pairs"][0]["operations"] = json!([])),
            "pairs[0].operations",
        ),
        (with(&|all| all["pairs"][0]["lac\nes"] = json!(1)), "pairs[0]"),
        (
            with(&|all| _ = all.as_object_mut().unwrap().remove("pairs")),
            "pairs",
        ),
        ("{".to_owned(), "input"),
        (String::new(), "input"),
        ("[]".to_owned(), "input"),
        (format!("{} 1", instance()), "input"),
    ] {
        let (status, out, err) = plan(&[], &input);
        assert_eq!((status, out.as_str(), err.lines().count()), (2, "", 1), "{err}");
        assert!(err.contains(field), "{field}: {err}");
    }
}
