//! Whether a pattern was printed at its true size.
//!
//! The bar of a 1:1 print is measured with a rule: at 97 mm for 100 the print is at 97 %, and has to be made larger by
//! 100 / 97. No printer prints at a 25th of the scale: a length that would be near the expected one in inches was read
//! in inches.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::{AnswerField, Calculation, Field, InvalidField, MM_PER_INCH};

const EXPECTED: Field = Field::number("expected_mm", "mm, as drawn", 1.0, 2_000.0);
const MEASURED: Field = Field::number("measured_mm", "mm, on the paper", 1.0, 2_000.0);
/// How far a print may be off and still be a print of the bar, as a factor either way. Common practice, no source.
const PLAUSIBLE: f64 = 1.25;

/// Whether a length on the paper can be that of a bar of the expected length, in the same unit.
pub fn is_plausible(measured: f64, expected: f64) -> bool {
    (1.0 / PLAUSIBLE..=PLAUSIBLE).contains(&(measured / expected))
}

/// The check bar of a print.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckBar {
    /// Its length in the drawing, mm.
    pub expected_mm: f64,
    /// Its length on the paper, mm. A length that can only have been read in inches is converted.
    pub measured_mm: f64,
}

/// The unit in which a length was read off the rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReadAs {
    /// Millimetres, as it was said.
    Mm,
    /// Inches: as millimetres it would be no print of the bar.
    Inches,
}

/// The scale of a print.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Printed {
    /// Measured by expected length: 0.97 is 3 % too small.
    pub scale: f64,
    /// The scale at which to print instead of 1.
    pub correction: f64,
    /// The unit in which the length on the paper was read.
    pub read_as: ReadAs,
}

impl Calculation for CheckBar {
    const NAME: &'static str = "print_check";
    const TAKES: &'static [Field] = &[EXPECTED, MEASURED];
    const GIVES: &'static [AnswerField] = gives![
        "scale" "measured to expected", "correction" "factor to print at",
        "read_as" "mm, or inches where the length can only be in inches",
    ];
    type Answer = Printed;

    fn calculate(&self) -> Result<Printed, InvalidField> {
        let (expected, measured) = (
            EXPECTED.check(self.expected_mm)?,
            MEASURED.check(self.measured_mm)?,
        );
        let in_inches = measured * MM_PER_INCH;
        let (measured, read_as) = if is_plausible(in_inches, expected) {
            (in_inches, ReadAs::Inches)
        } else {
            (measured, ReadAs::Mm)
        };
        Ok(Printed {
            scale: measured / expected,
            correction: expected / measured,
            read_as,
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
        assert_eq!(printed.read_as, ReadAs::Mm);
    }

    /// 4.02 in are 102.108 mm (an inch is 25.4 mm: NIST SP 811, appendix B).
    #[test]
    fn a_length_in_inches_is_recognised() {
        let bar = |measured_mm| CheckBar {
            expected_mm: 102.0,
            measured_mm,
        };
        let printed = bar(4.02).calculate().unwrap();
        assert_eq!(printed.read_as, ReadAs::Inches);
        assert!((printed.scale - 102.108 / 102.0).abs() < 1e-12);
        // Half the scale, and a twentieth: whatever they are, they are no inches.
        for measured_mm in [51.0, 5.1] {
            let printed = bar(measured_mm).calculate().unwrap();
            assert_eq!(
                (printed.read_as, printed.scale),
                (ReadAs::Mm, measured_mm / 102.0)
            );
        }
    }
}
