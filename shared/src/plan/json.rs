//! Reads JSON for the command line, with errors in one line.

use serde::de::DeserializeOwned;
use serde_json::Deserializer;

use super::{Instance, PlanPair};
use crate::trade::formulas::InvalidField;

/// Reads and checks an instance.
///
/// # Errors
/// The field that is wrong, missing or unknown, by its path, and why.
pub fn instance(json: &str) -> Result<Instance, InvalidField> {
    let instance: Instance = read(json)?;
    instance.check()?;
    Ok(instance)
}

/// Reads and checks a pair.
///
/// # Errors
/// The field that is wrong, missing or unknown, by its path, and why.
pub fn pair(json: &str) -> Result<PlanPair, InvalidField> {
    let pair: PlanPair = read(json)?;
    pair.check()?;
    Ok(pair)
}

fn read<T: DeserializeOwned>(json: &str) -> Result<T, InvalidField> {
    let mut reader = Deserializer::from_str(json);
    let read = serde_path_to_error::deserialize(&mut reader).map_err(|error| {
        let path = error.path().to_string();
        let field = if matches!(path.as_str(), "" | "." | "?") {
            "input".to_owned()
        } else {
            path
        };
        refused(&field, &error.inner().to_string())
    })?;
    reader
        .end()
        .map_err(|error| refused("input", &format!("one JSON object and nothing after it; {error}")))?;
    Ok(read)
}

/// An error in one line, whatever names the input contains.
fn refused(field: &str, why: &str) -> InvalidField {
    let line = |text: &str| text.replace(char::is_control, " ");
    InvalidField::new(line(field), line(why))
}
