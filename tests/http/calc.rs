//! `waxend calc` as a script runs it: through the binary, with good and bad input.

use std::io::Write;
use std::process::{Command, Stdio};

use serde_json::{Value, json};
use shared::trade::calc::CALCULATIONS;

/// What came of it: exit status, standard output, standard error.
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
    // A name that is not known is told before the input is read, and the pipe is then closed.
    let _ = child.stdin.take().unwrap().write_all(input);
    let ran = child.wait_with_output().unwrap();
    Ran {
        status: ran.status.code().unwrap(),
        out: String::from_utf8(ran.stdout).unwrap(),
        err: String::from_utf8(ran.stderr).unwrap(),
    }
}

/// Each name with a question and one number of the answer. The sources stand at the tests of `shared`, where the same
/// values are checked; here they show that the binary hands numbers through unrounded.
fn questions() -> Vec<(&'static str, Value, &'static str, f64, f64)> {
    let heel = json!({"back_mm": 30, "breast_mm": 26, "length_mm": 60});
    let lower = json!({"back_mm": 28, "breast_mm": 26, "length_mm": 60});
    let square = json!([[0, 0], [60, 0], [60, 60], [0, 60]]);
    let facet = json!([[0, 0, -6], [60, 0, 0], [0, 60, 0]]);
    let layers = json!({"insole": 3, "midsole": 0, "seat": 5, "block": 25, "top_piece": 6});
    let card = json!([[0, 0], [85.6, 0], [85.6, 53.98], [0, 53.98]]);
    let seen = json!([[220, 180], [1010, 205], [1035, 712], [190, 690]]);
    let failures = json!([54, 187, 216, 240, 244, 335, 361, 373, 375, 386]);
    vec![
        (
            "size",
            json!({"group": "adult", "system": "eu", "size": 42}),
            "/last_mm",
            280.0,
            1e-9,
        ),
        (
            "unit",
            json!({"value": 9, "from": "iron", "to": "mm"}),
            "/value",
            4.7625,
            1e-9,
        ),
        ("heel", heel.clone(), "/wedge_deg", 3.8141, 5e-5),
        (
            "pitch",
            json!({"seat_mm": 30, "tread_mm": 6, "run_mm": 165, "seat_change_mm": 4}),
            "/change_deg",
            1.3553,
            5e-5,
        ),
        (
            "wear_plane",
            json!({"points_mm": [[0, 0, -3], [50, 0, -3], [10, 60, 0]]}),
            "/tilt_deg",
            2.8624,
            5e-5,
        ),
        (
            "level_pair",
            json!({"left": heel, "right": lower}),
            "/take_off/0/mm",
            2.0,
            1e-12,
        ),
        (
            "nails",
            json!({"direction": "top_piece", "layers_mm": layers, "clearance_mm": 3, "stock_mm": [22, 25, 30], "outline_mm": square, "inset_mm": 6.35, "count": 7}),
            "/longest_mm",
            28.0,
            1e-12,
        ),
        (
            "lifts",
            json!({"height_mm": 30, "top_piece_mm": 6, "lift_mm": 5}),
            "/exact",
            4.8,
            1e-12,
        ),
        (
            "corner_line",
            json!({"outline_mm": square, "facet_mm": facet, "keep_mm": 3}),
            "/rubber_mm2",
            450.0,
            1e-9,
        ),
        (
            "thread",
            json!({"stitch": "301", "seam_mm": 560, "thickness_mm": 10, "spi": 8, "waste": 0.15}),
            "/ratio",
            8.299_213,
            5e-7,
        ),
        (
            "area",
            json!({"outline_mm": square, "yield": 0.75, "count": 2}),
            "/buy_dm2",
            0.96,
            1e-12,
        ),
        (
            "rectify",
            json!({"image_px": seen, "plane_mm": card, "points_px": [[300, 300], [900, 600]], "height_mm": 25, "distance_mm": 400}),
            "/distances_mm/0",
            69.739_395,
            1e-5,
        ),
        (
            "colour",
            json!({"a": {"lab": [50, 2.6772, -79.7751]}, "b": {"lab": [50, 0, -82.7485]}}),
            "/delta_e00",
            2.0425,
            6e-5,
        ),
        (
            "print_check",
            json!({"expected_mm": 100, "measured_mm": 97}),
            "/correction",
            1.030_928,
            5e-7,
        ),
        (
            "wait",
            json!({"kind": "stretch", "started": "2025-03-01T18:00:00+01:00"}),
            "",
            f64::NAN,
            0.0,
        ),
        (
            "kaplan_meier",
            json!({"times": [6, 6, 6, 6, 7], "observed": [true, true, true, false, true]}),
            "/table/0/survival",
            0.4,
            1e-12,
        ),
        (
            "weibull",
            json!({"failures": failures, "censored": [500, 500, 500, 500, 500, 500, 500, 500, 500, 500]}),
            "/scale",
            606.5280,
            5e-4,
        ),
        (
            "weibull_interval",
            json!({"intervals": [[0, 6], [6, 12], [12, 18], [18, null]]}),
            "",
            f64::NAN,
            0.0,
        ),
        (
            "wear_forecast",
            json!({"limit_mm": 2, "measurements": [{"date": "2025-01-01", "thickness_mm": 6}, {"date": "2025-02-20", "thickness_mm": 5}]}),
            "/rate_mm_per_month",
            0.608_737_5,
            1e-9,
        ),
    ]
}

#[test]
fn every_calculation_answers() {
    let questions = questions();
    assert!(
        questions
            .iter()
            .map(|one| one.0)
            .eq(CALCULATIONS.iter().map(|entry| entry.name))
    );
    for (name, question, at, expected, within) in questions {
        let ran = calc(&[name], question.to_string().as_bytes());
        assert_eq!((ran.status, ran.err.as_str()), (0, ""), "{name}");
        let answer: Value = serde_json::from_str(&ran.out).unwrap();
        assert!(answer.is_object(), "{name}");
        if !at.is_empty() {
            let got = answer.pointer(at).and_then(Value::as_f64).unwrap();
            assert!((got - expected).abs() < within, "{name} {at}: {got}");
        }
    }
}

/// Exit status 2, nothing on standard output, one line that names the field.
fn refused(args: &[&str], input: &[u8], field: &str) {
    let Ran { status, out, err } = calc(args, input);
    let said = format!("{args:?} {}: {err}", String::from_utf8_lossy(input));
    assert_eq!((status, out.as_str()), (2, ""), "{said}");
    assert!(err.ends_with('\n') && err.lines().count() == 1, "{said}");
    assert!(err.contains(field), "{said}");
}

#[test]
fn every_calculation_names_the_field_that_is_wrong() {
    for ((name, question, ..), entry) in questions().into_iter().zip(CALCULATIONS) {
        let field = entry.takes.iter().find(|field| !field.optional).unwrap().name;
        let mut without = question.clone();
        without.as_object_mut().unwrap().remove(field);
        refused(&[name], without.to_string().as_bytes(), field);
        let mut wrong = question.clone();
        wrong[field] = json!({"wrong": true});
        refused(&[name], wrong.to_string().as_bytes(), field);
        let mut unknown = question;
        unknown["laces_\nmm"] = json!(3);
        refused(&[name], unknown.to_string().as_bytes(), "laces_");
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
