//! The description of a field of a calculation: its unit and its allowed values, written once for the check, the error
//! message and the list of all calculations.

use std::fmt;
use std::ops::RangeInclusive;

/// An input field of a calculation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// Its unit, or a description if it has no unit.
    pub unit: &'static str,
    /// Its allowed values.
    pub allowed: Allowed,
    /// Whether it can be left out.
    pub optional: bool,
}

/// The allowed values of a field.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Allowed {
    /// A number from the first to the second.
    Number(f64, f64),
    /// A whole number from the first to the second.
    Whole(u32, u32),
    /// One of these words.
    Word(&'static [&'static str]),
    /// A list of numbers: its least and greatest length, and the least and greatest number.
    Numbers(usize, usize, f64, f64),
    /// A list of points: its least and greatest length, the number of coordinates of each point, and the greatest
    /// absolute value of a coordinate.
    Points(usize, usize, usize, f64),
    /// A group of fields.
    Group(&'static [Field]),
    /// Values that are described in words.
    Described(&'static str),
}

/// An error: a field that is out of range, and what is allowed in it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{field}: {allowed}")]
pub struct InvalidField {
    /// The name of the field, after the name of its group and a point if it is in one.
    pub field: String,
    /// What is allowed in it.
    pub allowed: String,
}

impl InvalidField {
    /// An error in this field, for this reason.
    pub fn new(field: impl Into<String>, allowed: impl Into<String>) -> Self {
        Self {
            field: field.into(),
            allowed: allowed.into(),
        }
    }

    /// The same error, of a field inside a group.
    #[must_use]
    pub fn within(self, group: &str) -> Self {
        Self {
            field: format!("{group}.{}", self.field),
            ..self
        }
    }
}

impl Field {
    /// A required field.
    pub const fn new(name: &'static str, unit: &'static str, allowed: Allowed) -> Self {
        Self {
            name,
            unit,
            allowed,
            optional: false,
        }
    }

    /// A required field for a number from `least` to `most`.
    pub const fn number(name: &'static str, unit: &'static str, least: f64, most: f64) -> Self {
        Self::new(name, unit, Allowed::Number(least, most))
    }

    /// The same field, but optional.
    #[must_use]
    pub const fn or_none(self) -> Self {
        Self {
            optional: true,
            ..self
        }
    }

    /// The error that this field's value is not allowed.
    pub fn refused(&self) -> InvalidField {
        InvalidField::new(self.name, self.to_string())
    }

    /// The error that this field's value is not allowed, with another wording of what is allowed.
    pub fn refused_as(&self, allowed: impl Into<String>) -> InvalidField {
        InvalidField::new(self.name, allowed)
    }

    /// The number, if it is allowed. NaN and infinity never are.
    ///
    /// # Errors
    /// This field, unless the number is allowed.
    pub fn check(&self, value: f64) -> Result<f64, InvalidField> {
        let Allowed::Number(least, most) = self.allowed else {
            return Ok(value);
        };
        self.keep(least..=most, value)
    }

    /// The numbers of a list, if their count and each of them is allowed.
    ///
    /// # Errors
    /// This field, unless they are.
    pub fn check_list<'a>(&self, values: &'a [f64]) -> Result<&'a [f64], InvalidField> {
        let Allowed::Numbers(fewest, most, low, high) = self.allowed else {
            return Ok(values);
        };
        if !(fewest..=most).contains(&values.len()) {
            return Err(self.refused());
        }
        for value in values {
            self.keep(low..=high, *value)?;
        }
        Ok(values)
    }

    /// The points of a list, if their count and each of them is allowed.
    ///
    /// # Errors
    /// This field, unless they are.
    pub fn check_points<'a, const N: usize>(
        &self,
        points: &'a [[f64; N]],
    ) -> Result<&'a [[f64; N]], InvalidField> {
        let Allowed::Points(fewest, most, _, limit) = self.allowed else {
            return Ok(points);
        };
        if !(fewest..=most).contains(&points.len()) {
            return Err(self.refused());
        }
        for value in points.iter().flatten() {
            self.keep(-limit..=limit, *value)?;
        }
        Ok(points)
    }

    fn keep(&self, range: RangeInclusive<f64>, value: f64) -> Result<f64, InvalidField> {
        if range.contains(&value) {
            Ok(value)
        } else {
            Err(self.refused())
        }
    }
}

/// What is allowed, with the unit: `a number from 1 to 300 (mm)`.
impl fmt::Display for Field {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.allowed)?;
        if self.unit.is_empty() {
            Ok(())
        } else {
            write!(f, " ({})", self.unit)
        }
    }
}

impl fmt::Display for Allowed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Allowed::Number(least, most) => write!(f, "a number from {least} to {most}"),
            Allowed::Whole(least, most) => write!(f, "a whole number from {least} to {most}"),
            Allowed::Word(words) => write!(f, "one of {}", words.join(", ")),
            Allowed::Numbers(fewest, most, low, high) => {
                write!(f, "a list of {fewest} to {most} numbers from {low} to {high}")
            }
            Allowed::Points(fewest, most, each, limit) => {
                let name = if *each == 2 { "[x, y]" } else { "[x, y, height]" };
                if fewest == most {
                    write!(f, "{fewest} points {name}")?;
                } else {
                    write!(f, "a list of {fewest} to {most} points {name}")?;
                }
                write!(f, ", each number from -{limit} to {limit}")
            }
            Allowed::Group(fields) => {
                let names: Vec<_> = fields.iter().map(|field| field.name).collect();
                write!(f, "an object of {}", names.join(", "))
            }
            Allowed::Described(words) => f.write_str(words),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BACK: Field = Field::number("back_mm", "mm", 1.0, 300.0);

    #[test]
    fn what_is_no_number_is_never_allowed() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.9, 300.1] {
            assert_eq!(BACK.check(value), Err(BACK.refused()), "{value}");
        }
        assert_eq!(BACK.check(300.0), Ok(300.0));
    }

    #[test]
    fn what_is_said_names_the_field_and_what_is_allowed() {
        let said = BACK.refused().within("left").to_string();
        assert_eq!(said, "left.back_mm: a number from 1 to 300 (mm)");
    }

    #[test]
    fn lists_are_counted_and_looked_through() {
        let list = Field::new("times", "any unit", Allowed::Numbers(1, 3, 0.0, 9.0));
        assert!(list.check_list(&[]).is_err() && list.check_list(&[1.0; 4]).is_err());
        assert!(list.check_list(&[1.0, f64::NAN]).is_err() && list.check_list(&[9.0]).is_ok());
        let points = Field::new("points_mm", "mm", Allowed::Points(3, 3, 2, 10.0));
        assert!(
            points.check_points(&[[0.0, 11.0]; 3]).is_err() && points.check_points(&[[0.0; 2]; 3]).is_ok()
        );
    }
}
