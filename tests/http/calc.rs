//! `waxend calc` as a script runs it: through the binary, with good and bad input.

use std::io::Write;
use std::process::{Command, Stdio};

use serde_json::{Value, json};
use shared::trade::calc::CALCULATIONS;

/// The result of a run: exit status, standard output, standard error.
struct Ran {
    status: i32,
    out: String,
    err: String,
}

fn calc(args: &[&str], input: &[u8]) -> Ran {
    let mut child = Command::new(super::WAXEND)
        .arg("calc")
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // An unknown name is reported before the input is read, so the pipe may be closed already.
    let _ = child.stdin.take().unwrap().write_all(input);
    let ran = child.wait_with_output().unwrap();
    Ran {
        status: ran.status.code().unwrap(),
        out: String::from_utf8(ran.stdout).unwrap(),
        err: String::from_utf8(ran.stderr).unwrap(),
    }
}

/// One case of `questions.json`, with its source.
#[derive(serde::Deserialize)]
struct Question {
    name: String,
    ask: Value,
    /// The path of a value in the answer, and the expected value.
    at: String,
    expected: Value,
    within: f64,
}

/// The cases, one for each calculation.
fn questions() -> Vec<Question> {
    serde_json::from_str(include_str!("questions.json")).unwrap()
}

#[test]
fn every_calculation_answers() {
    let questions = questions();
    let names = questions.iter().map(|one| one.name.as_str());
    assert!(names.eq(CALCULATIONS.iter().map(|entry| entry.name)));
    for one in questions {
        let ran = calc(&[&one.name], one.ask.to_string().as_bytes());
        assert_eq!((ran.status, ran.err.as_str()), (0, ""), "{}", one.name);
        let answer: Value = serde_json::from_str(&ran.out).unwrap();
        let got = answer.pointer(&one.at).unwrap();
        match (got.as_f64(), one.expected.as_f64()) {
            (Some(got), Some(expected)) => {
                assert!((got - expected).abs() <= one.within, "{} {got}", one.name);
            }
            _ => assert_eq!(*got, one.expected, "{}", one.name),
        }
    }
}

/// Expects exit status 2, nothing on standard output, and one line that names the field.
fn refused(args: &[&str], input: &[u8], field: &str) {
    let Ran { status, out, err } = calc(args, input);
    let said = format!("{args:?} {}: {err}", String::from_utf8_lossy(input));
    assert_eq!((status, out.as_str()), (2, ""), "{said}");
    assert!(err.ends_with('\n') && err.lines().count() == 1, "{said}");
    assert!(err.contains(field), "{said}");
}

#[test]
fn every_calculation_names_the_field_that_is_wrong() {
    for (Question { name, ask, .. }, entry) in questions().into_iter().zip(CALCULATIONS) {
        let field = entry.takes.iter().find(|field| !field.optional).unwrap().name;
        let mut without = ask.clone();
        without.as_object_mut().unwrap().remove(field);
        refused(&[&name], without.to_string().as_bytes(), field);
        let mut wrong = ask.clone();
        wrong[field] = json!({"wrong": true});
        refused(&[&name], wrong.to_string().as_bytes(), field);
        let mut unknown = ask;
        unknown["laces_\nmm"] = json!(3);
        refused(&[&name], unknown.to_string().as_bytes(), "laces_");
    }
}

#[test]
fn values_out_of_range_and_shapes_that_are_none() {
    let crossed = json!({"outline_mm": [[0, 0], [10, 10], [10, 0], [0, 9]], "yield": 0.75, "count": 2});
    let hollow = json!({
        "outline_mm": [[0, 0], [60, 0], [30, 20], [60, 60], [0, 60]], "facet_mm": [[0, 0, -6], [60, 0, 0], [0, 60, 0]],
        "keep_mm": 3,
    });
    let in_line = json!({"points_mm": [[0, 0, -3], [10, 10, -2], [20, 20, 0]]});
    for (name, input, field) in [
        (
            "heel",
            r#"{"back_mm": NaN, "breast_mm": 26, "length_mm": 60}"#.to_owned(),
            "back_mm",
        ),
        (
            "heel",
            r#"{"back_mm": 1e999, "breast_mm": 26, "length_mm": 60}"#.to_owned(),
            "back_mm",
        ),
        (
            "heel",
            r#"{"back_mm": -3, "breast_mm": 26, "length_mm": 60}"#.to_owned(),
            "back_mm",
        ),
        ("area", crossed.to_string(), "outline_mm"),
        ("corner_line", hollow.to_string(), "outline_mm"),
        ("wear_plane", in_line.to_string(), "points_mm"),
        (
            "unit",
            r#"{"value": 1, "from": "iron", "to": "ft2"}"#.to_owned(),
            "to",
        ),
        (
            "unit",
            r#"{"value": 1, "from": "furlong", "to": "mm"}"#.to_owned(),
            "from",
        ),
        (
            "kaplan_meier",
            r#"{"times": [], "observed": []}"#.to_owned(),
            "times",
        ),
        (
            "wait",
            r#"{"kind": "soak", "started": "yesterday"}"#.to_owned(),
            "started",
        ),
        (
            "allowance",
            r#"{"groups": [[3, 2]]}"#.to_owned(),
            "groups",
        ),
        (
            "allowance",
            r#"{"groups": [], "prior": {"alpha": 0, "beta": 1}}"#.to_owned(),
            "prior.alpha",
        ),
        (
            "estimate",
            r#"{"rate_per_hour": -45, "lines": [], "hidden": []}"#.to_owned(),
            "rate_per_hour",
        ),
        (
            "estimate",
            r#"{"rate_per_hour": 45, "lines": [{"minutes": {"p50": 30, "p90": 20}, "materials": 0}], "hidden": []}"#
                .to_owned(),
            "lines.minutes.p90",
        ),
        (
            "estimate",
            r#"{"rate_per_hour": 45, "lines": [], "hidden": [], "price": 1e300}"#.to_owned(),
            "price",
        ),
        (
            "minutes",
            r#"{"stamps": [{"person": "a", "pair": "1", "step": "x", "at": "1989-12-31T09:00:00Z"}]}"#.to_owned(),
            "stamps",
        ),
        (
            "minutes",
            r#"{"stamps": [{"person": "a", "pair": "1", "step": "x", "at": "2500-01-01T09:00:00Z"}]}"#.to_owned(),
            "stamps",
        ),
        (
            "choices",
            r#"{"choices": [{"minutes": 30, "materials": 5, "life_months": 0}], "rate_per_hour": 45}"#.to_owned(),
            "choices.life_months",
        ),
        ("heel", "{".to_owned(), "input"),
        ("heel", String::new(), "input"),
        ("heel", "[30, 26, 60]".to_owned(), "input"),
    ] {
        refused(&[name], input.as_bytes(), field);
    }
    refused(&["heel"], b"\xff\xfe", "input");
    refused(&["heels"], b"{}", "one of size, unit, heel");
    refused(&["two\nlines"], b"{}", "NAME");
    refused(&[], b"", "--list");
}

#[test]
fn the_list_names_all_with_fields_and_units() {
    let ran = calc(&["--list"], b"");
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    for entry in CALCULATIONS {
        let after = ran
            .out
            .split_once(&format!("{}\n  in", entry.name))
            .expect(entry.name)
            .1;
        for field in entry.takes {
            assert!(
                after.contains(field.name) && after.contains(field.unit),
                "{} {}",
                entry.name,
                field.name
            );
        }
    }
}
