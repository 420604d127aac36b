use super::*;
use serde_json::json;

/// One valid input for every calculation; the binary is tested with the same.
fn good() -> Vec<(String, Value)> {
    let questions = include_str!("../../../../tests/http/questions.json");
    let questions: Vec<Value> = serde_json::from_str(questions).unwrap();
    questions
        .into_iter()
        .map(|one| (one["name"].as_str().unwrap().to_owned(), one["ask"].clone()))
        .collect()
}

#[test]
fn every_calculation_answers_with_the_fields_it_lists() {
    let good = good();
    assert!(
        good.iter()
            .map(|(name, _)| name.as_str())
            .eq(CALCULATIONS.iter().map(|entry| entry.name))
    );
    for (entry, (name, input)) in CALCULATIONS.iter().zip(good) {
        let answer = calc(&name, &input.to_string()).unwrap_or_else(|refused| panic!("{name}: {refused}"));
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

/// The error names the field that is left out, misspelt, of the wrong type or out of range.
#[test]
fn every_field_is_named_when_it_is_wrong() {
    for (entry, (name, input)) in CALCULATIONS.iter().zip(good()) {
        for field in entry.takes {
            let with = |value: Value| {
                let mut wrong = input.clone();
                wrong[field.name] = value;
                refused(&name, &wrong.to_string())
            };
            for value in [json!({"no": 1}), json!(true), json!("no such"), json!([[[]]])] {
                let said = with(value);
                assert!(said.contains(field.name), "{name}: {said}");
            }
            if !field.optional {
                let mut without = input.clone();
                without.as_object_mut().unwrap().remove(field.name);
                assert!(
                    refused(&name, &without.to_string()).starts_with(field.name),
                    "{name}"
                );
                assert!(with(Value::Null).starts_with(field.name), "{name}");
            }
            let mut unknown = input.clone();
            unknown["colour_of_the\nlaces"] = json!(1);
            assert!(refused(&name, &unknown.to_string()).contains("laces"), "{name}");
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
