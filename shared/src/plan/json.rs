//! Reads JSON for the command line, with errors in one line.

use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::Deserializer;

use super::{Instance, PlanPair, StandingOperation};
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

/// A plan that was made before, as far as it is needed of it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
pub struct PreviousPlan {
    /// Its operations.
    blocks: Vec<PreviousOperation>,
    /// The pairs that it left out.
    #[serde(default)]
    left_out: Vec<PreviousPair>,
}

#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
struct PreviousPair {
    tag: String,
}

#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
struct PreviousOperation {
    tag: String,
    name: String,
    start: i64,
}

impl PreviousPlan {
    /// Whether it left a pair with this tag out.
    pub fn left_out(&self, tag: &str) -> bool {
        self.left_out.iter().any(|pair| pair.tag == tag)
    }

    /// Its operations, to be matched to an instance by the tags of pairs.
    pub fn operations(&self) -> impl Iterator<Item = StandingOperation<'_>> {
        self.blocks.iter().map(|block| StandingOperation {
            pair: &block.tag,
            name: &block.name,
            start: block.start,
        })
    }
}

/// Reads a plan that was made before.
///
/// # Errors
/// The field that is wrong or missing, by its path, and why. Fields that are not needed are not looked at.
pub fn previous(json: &str) -> Result<PreviousPlan, InvalidField> {
    let plan: PreviousPlan = read(json)?;
    let is_time = |block: &PreviousOperation| super::instance::time("start", block.start);
    plan.blocks.iter().try_for_each(is_time)?;
    Ok(plan)
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
