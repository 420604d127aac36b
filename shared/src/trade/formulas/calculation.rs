//! What every calculation is: fields in, fields out.

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::field::{Field, InvalidField};

/// A field of an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AnswerField {
    /// Its name.
    pub name: &'static str,
    /// Its unit, or what it is where it has none.
    pub unit: &'static str,
}

/// A calculation: its fields are what it takes.
pub trait Calculation: DeserializeOwned {
    /// What it is called.
    const NAME: &'static str;
    /// What it takes.
    const TAKES: &'static [Field];
    /// What it answers.
    const GIVES: &'static [AnswerField];
    /// The answer.
    type Answer: Serialize;

    /// Reckons.
    ///
    /// # Errors
    /// The first field that is out of range, and what is allowed there.
    fn reckon(&self) -> Result<Self::Answer, InvalidField>;
}

/// A table of [`AnswerField`]: `"name" "unit"` a line.
macro_rules! gives {
    ($($name:literal $unit:literal),+ $(,)?) => {
        &[$($crate::trade::formulas::AnswerField { name: $name, unit: $unit }),+]
    };
}

pub(crate) use gives;
