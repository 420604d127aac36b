//! Reads the JSON input of a calculation, with errors in one line.

use serde::de::DeserializeOwned;
use serde_json::{Deserializer, Map, Value};

use crate::trade::formulas::{Allowed, Calculation, Field, InvalidField};

/// Reads the input of a calculation.
pub(super) fn read<C: Calculation>(json: &str) -> Result<C, InvalidField> {
    // First as any JSON, so that errors about missing or unknown fields, or about anything but an object, have our own
    // wording.
    let value: Value = parse(json, C::TAKES)?;
    let Value::Object(object) = value else {
        let names: Vec<_> = C::TAKES.iter().map(|field| field.name).collect();
        return Err(InvalidField::new(
            "input",
            format!("one JSON object of {}", names.join(", ")),
        ));
    };
    shape(&object, C::TAKES)?;
    parse(json, C::TAKES)
}

fn shape(object: &Map<String, Value>, fields: &[Field]) -> Result<(), InvalidField> {
    for name in object.keys() {
        if !fields.iter().any(|field| field.name == name) {
            let known: Vec<_> = fields.iter().map(|field| field.name).collect();
            // Quoted, so that a name with a line break stays on one line.
            return Err(InvalidField::new(
                format!("{name:?}"),
                format!("no such field; known are {}", known.join(", ")),
            ));
        }
    }
    for field in fields {
        match (object.get(field.name), field.allowed) {
            (None, _) if !field.optional => {
                return Err(field.refused_as(format!("must be there: {field}")));
            }
            (Some(Value::Object(inner)), Allowed::Group(fields)) => {
                shape(inner, fields).map_err(|refused| refused.within(field.name))?;
            }
            (Some(Value::Null), _) if field.optional => {}
            (Some(_), Allowed::Group(_)) => return Err(field.refused()),
            _ => {}
        }
    }
    Ok(())
}

/// Parses, and on failure names the field that was being read.
fn parse<T: DeserializeOwned>(json: &str, fields: &[Field]) -> Result<T, InvalidField> {
    let mut reader = Deserializer::from_str(json);
    let read = serde_path_to_error::deserialize(&mut reader).map_err(|error| {
        let path = error.path().to_string();
        let why = error.inner().to_string();
        match named(&path, fields) {
            Some(field) => InvalidField::new(path, field.to_string()),
            // For a field that occurs twice, the reason names it.
            None => InvalidField::new("input", format!("one JSON object; {why}")),
        }
    })?;
    reader.end().map_err(|error| {
        InvalidField::new("input", format!("one JSON object and nothing after it; {error}"))
    })?;
    Ok(read)
}

/// The field that a path such as `left.back_mm` or `points_mm[1][0]` leads to.
fn named<'a>(path: &str, fields: &'a [Field]) -> Option<&'a Field> {
    let (first, rest) = path.split_once('.').unwrap_or((path, ""));
    let name = first.split('[').next().unwrap_or(first);
    let field = fields.iter().find(|field| field.name == name)?;
    match field.allowed {
        Allowed::Group(inner) if !rest.is_empty() => named(rest, inner),
        _ => Some(field),
    }
}
