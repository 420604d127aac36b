//! Whether a pattern was printed at its true size.
//!
//! The bar of a 1:1 print is measured with a rule: at 97 mm for 100 the print is at 97 %, and has to be made larger by
//! 100 / 97.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::{AnswerField, Calculation, Field, InvalidField};

const EXPECTED: Field = Field::number("expected_mm", "mm, as drawn", 1.0, 2_000.0);
const MEASURED: Field = Field::number("measured_mm", "mm, on the paper", 1.0, 2_000.0);

/// The check bar of a print.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckBar {
    /// Its length in the drawing, mm.
    pub expected_mm: f64,
    /// Its length on the paper, mm.
    pub measured_mm: f64,
}

/// The scale of a print.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Printed {
    /// Measured by expected length: 0.97 is 3 % too small.
    pub scale: f64,
    /// The scale at which to print instead of 1.
    pub correction: f64,
}

impl Calculation for CheckBar {
    const NAME: &'static str = "print_check";
    const TAKES: &'static [Field] = &[EXPECTED, MEASURED];
    const GIVES: &'static [AnswerField] =
        gives!["scale" "measured to expected", "correction" "factor to print at"];
    type Answer = Printed;

    fn calculate(&self) -> Result<Printed, InvalidField> {
        let (expected, measured) = (
            EXPECTED.check(self.expected_mm)?,
            MEASURED.check(self.measured_mm)?,
        );
        Ok(Printed {
            scale: measured / expected,
            correction: expected / measured,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Closed form: 100 / 97 = 1.030927…
    #[test]
    fn a_bar_of_97_in_place_of_100() {
        let bar = CheckBar {
            expected_mm: 100.0,
            measured_mm: 97.0,
        };
        let printed = bar.calculate().unwrap();
        assert!((printed.scale - 0.97).abs() < 1e-15 && (printed.correction - 1.030_928).abs() < 5e-7);
    }
}
