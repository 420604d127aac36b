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

/// The answer to a question.
fn answered(name: &str, ask: &Value) -> Value {
    let Ran { status, out, err } = calc(&[name], ask.to_string().as_bytes());
    assert_eq!((status, err.as_str()), (0, ""), "{name} {ask}");
    serde_json::from_str(&out).unwrap()
}

/// CAMEO (Museum of Fine Arts), "Lea": 300 yards to the pound; arithmetic from the pound and the yard: 18 lea are 91.862
/// tex.
#[test]
fn a_linen_count_is_converted() {
    let tex = answered("unit", &json!({"value": 18, "from": "lea", "to": "tex"}));
    assert!((tex["value"].as_f64().unwrap() - 91.862).abs() < 5e-4);
    refused(&["unit"], br#"{"value": 0, "from": "lea", "to": "tex"}"#, "value");
}

/// Two makers' charts: after the children's 13½ comes the adults' 1, and a child's UK 12 is US 12½ or 13.
#[test]
fn childrens_sizes_begin_again_and_their_spread_is_told() {
    let child = |size: f64| answered("size", &json!({"group": "child", "system": "uk", "size": size}));
    assert_eq!(child(12.0)["us_child"], json!([12.5, 13.0]));
    assert_eq!(child(14.0)["nearest_half"]["uk"], json!(1.0));
    let adult = answered("size", &json!({"group": "adult", "system": "uk", "size": 1}));
    assert_eq!(
        (&adult["nearest_half"]["uk"], &adult["us_child"]),
        (&json!(1.0), &Value::Null)
    );
}

#[test]
fn a_sign_or_a_unit_that_was_mixed_up_is_found() {
    let depths = json!({
        "outline_mm": [[0, 0], [60, 0], [60, 60], [0, 60]], "facet_mm": [[0, 0, 6], [60, 0, 0], [0, 60, 0]],
        "keep_mm": 3,
    });
    refused(
        &["corner_line"],
        depths.to_string().as_bytes(),
        "facet_mm: worn is below",
    );
    // An inch is 25.4 mm (NIST SP 811, appendix B).
    let print = answered("print_check", &json!({"expected_mm": 102, "measured_mm": 4.02}));
    assert_eq!(print["read_as"], "inches");
    assert!((print["scale"].as_f64().unwrap() - 4.02 * 25.4 / 102.0).abs() < 1e-12);
}

/// Common practice, no source: 28 days between the first measure and the last, 6 mm between heels before it is asked, a
/// last lift of 1 mm, 8 mm of a nail in the base.
#[test]
fn what_says_little_is_not_told_as_an_answer() {
    let measured = json!([
        {"date": "2025-01-01", "thickness_mm": 6}, {"date": "2025-01-02", "thickness_mm": 5.9},
    ]);
    let wear = answered("wear_forecast", &json!({"limit_mm": 2, "measurements": measured}));
    assert_eq!(
        (&wear["rate_mm_per_month"], &wear["reaches_on"]),
        (&Value::Null, &Value::Null)
    );
    assert!(wear["reason"].as_str().unwrap().contains("only 1 day apart"));
    let heel = |back| json!({"back_mm": back, "breast_mm": 26, "length_mm": 60});
    let pair = |more: Value| {
        let mut ask = json!({"left": heel(38), "right": heel(30)});
        ask.as_object_mut()
            .unwrap()
            .extend(more.as_object().unwrap().clone());
        answered("level_pair", &ask)
    };
    assert_eq!(pair(json!({}))["ask_first"], true);
    let prescribed = pair(json!({"heights": "prescribed"}));
    assert_eq!(
        (&prescribed["take_off"], &prescribed["ask_first"]),
        (&json!([]), &json!(false))
    );
    let lifts = answered(
        "lifts",
        &json!({"height_mm": 36.2, "top_piece_mm": 6, "lift_mm": 5}),
    );
    assert_eq!(lifts["lifts"], 6);
    let nails = json!({
        "direction": "below", "layers_mm": {"seat": 5, "insole": 3, "block": 25}, "clearance_mm": 3,
        "stock_mm": [22, 25],
    });
    let nails = answered("nails", &nails);
    assert_eq!(
        (&nails["choose_mm"], &nails["hold_mm"]),
        (&json!(25.0), &json!(0.0))
    );
    assert!(
        nails["reason"]
            .as_str()
            .unwrap()
            .contains("does not reach the seat")
    );
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
