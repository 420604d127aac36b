//! The interface of every calculation: checked fields in, fields out.

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::field::{Field, InvalidField};

/// A field of an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AnswerField {
    /// Its name.
    pub name: &'static str,
    /// Its unit, or a description if it has no unit.
    pub unit: &'static str,
}

/// A calculation. The fields of the type are its inputs.
pub trait Calculation: DeserializeOwned {
    /// Its name.
    const NAME: &'static str;
    /// The fields of its input.
    const TAKES: &'static [Field];
    /// The fields of its answer.
    const GIVES: &'static [AnswerField];
    /// The answer.
    type Answer: Serialize;

    /// Checks the inputs and calculates the answer.
    ///
    /// # Errors
    /// The first field that is out of range, and what is allowed there.
    fn calculate(&self) -> Result<Self::Answer, InvalidField>;
}

/// A table of [`AnswerField`], one `"name" "unit"` in each line.
macro_rules! gives {
    ($($name:literal $unit:literal),+ $(,)?) => {
        &[$($crate::trade::formulas::AnswerField { name: $name, unit: $unit }),+]
    };
}

pub(crate) use gives;
