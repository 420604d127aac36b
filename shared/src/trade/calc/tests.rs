use super::*;
use serde_json::json;

/// Every calculation once, as it is asked at a bench.
fn good() -> Vec<(&'static str, Value)> {
    let heel = json!({"back_mm": 30, "breast_mm": 26, "length_mm": 60});
    let square = json!([[0, 0], [60, 0], [60, 60], [0, 60]]);
    let facet = json!([[0, 0, -6], [60, 0, 0], [0, 60, 0]]);
    vec![
        ("size", json!({"group": "adult", "foot_mm": 265})),
        ("unit", json!({"value": 9, "from": "iron", "to": "mm"})),
        ("heel", heel.clone()),
        (
            "pitch",
            json!({"seat_mm": 30, "tread_mm": 6, "run_mm": 165, "seat_change_mm": 4}),
        ),
        ("wear_plane", json!({"points_mm": facet})),
        ("level_pair", json!({"left": heel, "right": heel})),
        (
            "nails",
            json!({
                "direction": "inside", "clearance_mm": 3, "stock_mm": [16, 19, 22], "outline_mm": square, "inset_mm": 6.35,
                "spacing_mm": 12.7, "shank": "threaded",
                "layers_mm": {"insole": 3, "midsole": 0, "seat": 5, "block": 15, "top_piece": 6},
            }),
        ),
        ("lifts", json!({"height_mm": 30, "top_piece_mm": 6, "lift_mm": 5})),
        (
            "corner_line",
            json!({"outline_mm": square, "facet_mm": facet, "keep_mm": 3}),
        ),
        (
            "thread",
            json!({"stitch": "301", "seam_mm": 560, "thickness_mm": 10, "spi": 8, "waste": 0.15}),
        ),
        ("area", json!({"outline_mm": square, "yield": 0.75, "count": 2})),
        (
            "rectify",
            json!({
                "image_px": [[220, 180], [1010, 205], [1035, 712], [190, 690]],
                "plane_mm": [[0, 0], [85.6, 0], [85.6, 53.98], [0, 53.98]], "points_px": [[300, 300], [900, 600]],
            }),
        ),
        (
            "colour",
            json!({"a": {"srgb": [120, 72, 40]}, "b": {"lab": [43, 16, 26]}, "white": {"srgb": "d4c6b0", "reflectance": 0.9}}),
        ),
        ("print_check", json!({"expected_mm": 100, "measured_mm": 97})),
        (
            "wait",
            json!({"kind": "contact_cement", "started": "2025-03-01T18:00:00+01:00"}),
        ),
        (
            "kaplan_meier",
            json!({"times": [6, 6, 7], "observed": [true, false, true]}),
        ),
        ("weibull", json!({"failures": [54, 187, 216], "censored": [500]})),
        (
            "weibull_interval",
            json!({"intervals": [[0, 6], [6, 12], [12, 18], [18, null]]}),
        ),
        (
            "wear_forecast",
            json!({"limit_mm": 2, "measurements": [
                {"date": "2025-01-01", "thickness_mm": 6}, {"date": "2025-03-01", "thickness_mm": 5.1},
                {"date": "2025-05-01", "thickness_mm": 3.9},
            ]}),
        ),
    ]
}

#[test]
fn every_calculation_answers_with_the_fields_it_lists() {
    let good = good();
    assert!(
        good.iter()
            .map(|(name, _)| *name)
            .eq(CALCULATIONS.iter().map(|entry| entry.name))
    );
    for (entry, (name, input)) in CALCULATIONS.iter().zip(good) {
        let answer = calc(name, &input.to_string()).unwrap_or_else(|refused| panic!("{name}: {refused}"));
        let mut listed: Vec<_> = entry.gives.iter().map(|given| given.name).collect();
        let mut given: Vec<_> = answer.as_object().unwrap().keys().map(String::as_str).collect();
        listed.sort_unstable();
        given.sort_unstable();
        assert_eq!(listed, given, "{name}");
    }
}

fn refused(name: &str, json: &str) -> String {
    let said = calc(name, json).expect_err(name).to_string();
    assert!(!said.contains('\n'), "one line: {said}");
    said
}

/// Whatever is left out, misspelt, of the wrong kind or too great: the field is named.
#[test]
fn every_field_is_named_when_it_is_wrong() {
    for (entry, (name, input)) in CALCULATIONS.iter().zip(good()) {
        for field in entry.takes {
            let with = |value: Value| {
                let mut wrong = input.clone();
                wrong[field.name] = value;
                refused(name, &wrong.to_string())
            };
            for value in [json!({"no": 1}), json!(true), json!("no such"), json!([[[]]])] {
                let said = with(value);
                assert!(said.contains(field.name), "{name}: {said}");
            }
            if !field.optional {
                let mut without = input.clone();
                without.as_object_mut().unwrap().remove(field.name);
                assert!(
                    refused(name, &without.to_string()).starts_with(field.name),
                    "{name}"
                );
                assert!(with(Value::Null).starts_with(field.name), "{name}");
            }
            let mut unknown = input.clone();
            unknown["colour_of_the\nlaces"] = json!(1);
            assert!(refused(name, &unknown.to_string()).contains("laces"), "{name}");
        }
    }
}

#[test]
fn a_number_that_is_none_is_named_by_its_field() {
    for bad in [
        "NaN", "Infinity", "1e999", "-1e999", "null", "\"30\"", "1e300", "-1",
    ] {
        let json = format!(r#"{{"back_mm": {bad}, "breast_mm": 26, "length_mm": 60}}"#);
        let said = refused("heel", &json);
        assert!(
            said.contains("back_mm") && said.contains("0.5 to 300"),
            "{bad}: {said}"
        );
    }
}

#[test]
fn what_is_not_one_object_is_refused() {
    for json in [
        "",
        "{",
        "[]",
        "[30, 26, 60]",
        "30",
        "null",
        "{} {}",
        "{\"back_mm\": 30,}",
        "\u{feff}{}",
    ] {
        refused("heel", json);
    }
    let twice = r#"{"back_mm": 30, "back_mm": 31, "breast_mm": 26, "length_mm": 60}"#;
    assert!(refused("heel", twice).contains("back_mm"));
    let group = r#"{"left": [30, 26, 60], "right": {"back_mm": 30, "breast_mm": 26, "length_mm": 60}}"#;
    assert!(refused("level_pair", group).starts_with("left"));
    let inner = r#"{"left": {"back_mm": 30, "breast_mm": "x", "length_mm": 60}, "right": {"back_mm": 30, "breast_mm": 26, "length_mm": 60}}"#;
    assert!(refused("level_pair", inner).starts_with("left.breast_mm"));
    assert!(refused("heels", "{}").starts_with("NAME"));
}

#[test]
fn the_list_names_every_calculation_and_field() {
    let text = list();
    for entry in CALCULATIONS {
        assert!(text.lines().any(|line| line == entry.name));
        for name in entry
            .takes
            .iter()
            .map(|field| field.name)
            .chain(entry.gives.iter().map(|given| given.name))
        {
            assert!(text.contains(name), "{name}");
        }
    }
}
