//! The units of the trade.
//!
//! An iron is 1/48 in (Federal Test Method Standard 311, 1969, 3.2.114) and an ounce of upper leather 1/64 in (GNU
//! units `shoeounce`), as a thickness only. A line is 1/12 in: there are three lines, and this one is neither
//! the button line (1/40 in) nor the Paris ligne (2.2558 mm). An eighth of heel height is 1/8 in (common practice, no
//! source). Paris point and barleycorn as in [`size`](super::size). A square foot is exactly 9.290304 dm² (NIST SP 811).
//!
//! Fineness of thread: tex is grams to the kilometre; a linen count of one lea is 300 yards to the pound (CAMEO, Museum
//! of Fine Arts, "Lea"), so the higher the count, the finer the thread: tex = 1653.515 / lea.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::size::{BARLEYCORN_MM, PARIS_POINT_MM};
use super::{Allowed, AnswerField, Calculation, Field, InvalidField, MM_PER_INCH};

/// A square foot, in mm².
pub const MM2_PER_FT2: f64 = 92_903.04;
/// A square decimetre, in mm².
pub const MM2_PER_DM2: f64 = 10_000.0;

/// The fineness of a linen thread of one lea, in tex: a pound (453.59237 g) in 300 yards (0.9144 m each).
pub const TEX_OF_ONE_LEA: f64 = 453_592.37 / (300.0 * 0.914_4);

const UNITS: Allowed = Allowed::Word(&[
    "mm",
    "cm",
    "in",
    "iron",
    "ounce",
    "line",
    "eighth",
    "point",
    "barleycorn",
    "mm2",
    "dm2",
    "ft2",
    "tex",
    "lea",
]);
const VALUE: Field = Field::number("value", "in the unit `from`", -1e12, 1e12);
const FROM: Field = Field::new("from", "", UNITS);
const TO: Field = Field::new(
    "to",
    "a length for a length, an area for an area, a fineness for a fineness",
    UNITS,
);
/// What a thread can be, in tex or in lea.
const FINENESS: std::ops::RangeInclusive<f64> = 0.001..=1_000_000.0;

/// A unit of length, of area or of the fineness of thread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// Millimetre.
    Mm,
    /// Centimetre.
    Cm,
    /// Inch.
    In,
    /// Thickness of sole leather, 1/48 in.
    Iron,
    /// Thickness of upper leather, 1/64 in.
    Ounce,
    /// 1/12 in.
    Line,
    /// Heel height, 1/8 in.
    Eighth,
    /// Paris point, 2/3 cm.
    Point,
    /// 1/3 in.
    Barleycorn,
    /// Square millimetre.
    Mm2,
    /// Square decimetre.
    Dm2,
    /// Square foot.
    Ft2,
    /// Grams to the kilometre of thread.
    Tex,
    /// Linen count: 300 yards to the pound; the higher, the finer.
    Lea,
}

/// What a unit measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measures {
    /// A length or a thickness.
    Length,
    /// An area.
    Area,
    /// The fineness of thread.
    Fineness,
}

impl Unit {
    /// What it measures.
    pub fn measures(self) -> Measures {
        match self {
            Unit::Mm2 | Unit::Dm2 | Unit::Ft2 => Measures::Area,
            Unit::Tex | Unit::Lea => Measures::Fineness,
            _ => Measures::Length,
        }
    }

    /// One of this unit in mm, in mm² or in tex.
    fn in_basic(self) -> f64 {
        match self {
            Unit::Mm | Unit::Mm2 | Unit::Tex => 1.0,
            Unit::Cm => 10.0,
            Unit::In => MM_PER_INCH,
            Unit::Iron => MM_PER_INCH / 48.0,
            Unit::Ounce => MM_PER_INCH / 64.0,
            Unit::Line => MM_PER_INCH / 12.0,
            Unit::Eighth => MM_PER_INCH / 8.0,
            Unit::Point => PARIS_POINT_MM,
            Unit::Barleycorn => BARLEYCORN_MM,
            Unit::Dm2 => MM2_PER_DM2,
            Unit::Ft2 => MM2_PER_FT2,
            Unit::Lea => TEX_OF_ONE_LEA,
        }
    }
}

/// A value to convert.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Convert {
    /// The value; a difference may be negative.
    pub value: f64,
    /// Its unit.
    pub from: Unit,
    /// The unit of the result, of the same kind.
    pub to: Unit,
}

/// The converted value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Converted {
    /// The value in the unit `to`.
    pub value: f64,
}

impl Calculation for Convert {
    const NAME: &'static str = "unit";
    const TAKES: &'static [Field] = &[VALUE, FROM, TO];
    const GIVES: &'static [AnswerField] = gives!["value" "in the unit `to`"];
    type Answer = Converted;

    fn calculate(&self) -> Result<Converted, InvalidField> {
        let value = VALUE.check(self.value)?;
        if self.from.measures() != self.to.measures() {
            return Err(TO.refused());
        }
        if self.from.measures() == Measures::Fineness && !FINENESS.contains(&value) {
            return Err(VALUE.refused_as("a number from 0.001 to 1000000, for the fineness of thread"));
        }
        // A count is the inverse of a weight, there and back alike.
        let inverse = (self.from == Unit::Lea) != (self.to == Unit::Lea);
        Ok(Converted {
            value: if inverse {
                TEX_OF_ONE_LEA / value
            } else {
                value * self.from.in_basic() / self.to.in_basic()
            },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::Unit::*;
    use super::*;
    use proptest::prelude::*;

    fn convert(value: f64, from: Unit, to: Unit) -> f64 {
        Convert { value, from, to }.calculate().unwrap().value
    }

    /// GNU units 2.22 (`shoeiron`, `shoeounce`, `line`, `europeshoesize`), which has the barleycorn in the old UK inch:
    /// hence 1e-5. The rest is closed form from the definitions above.
    #[test]
    fn as_gnu_units_converts() {
        let table = [
            (6.0, Iron, Mm, 3.1750),
            (9.0, Iron, Mm, 4.7625),
            (12.0, Iron, Mm, 6.35),
            (8.0, Ounce, Mm, 3.175),
            (2.0, Ounce, Mm, 0.79375),
            (6.0, Mm, Iron, 11.338_583),
            (6.0, Mm, Ounce, 15.118_110),
            (1.0, Line, Mm, 2.116_667),
            (8.0, Eighth, In, 1.0),
            (1.0, Point, Mm, 6.666_667),
            (1.0, Barleycorn, Mm, 8.466_667),
            (1.0, Ft2, Dm2, 9.290_304),
            (1.0, Dm2, Ft2, 0.107_639_10),
            (19_531.0, Mm2, Dm2, 1.953_1),
            (2.5, Cm, Mm, 25.0),
        ];
        for (value, from, to, expected) in table {
            let got = convert(value, from, to);
            assert!((got - expected).abs() < 1e-5, "{value} {from:?}: {got}");
        }
    }

    /// CAMEO (Museum of Fine Arts), "Lea": 300 yards to the pound; arithmetic from the pound and the yard: 18 lea are
    /// 91.862 tex.
    #[test]
    fn a_linen_count_is_the_inverse_of_tex() {
        assert!((convert(1.0, Lea, Tex) - 1653.515).abs() < 1e-3);
        assert!((convert(18.0, Lea, Tex) - 91.862).abs() < 5e-4);
        assert!((convert(91.862, Tex, Lea) - 18.0).abs() < 1e-4);
        assert_eq!((convert(18.0, Lea, Lea), convert(105.0, Tex, Tex)), (18.0, 105.0));
        let refused = |value, from, to| Convert { value, from, to }.calculate().unwrap_err().field;
        assert_eq!(refused(0.0, Lea, Tex), "value");
        assert_eq!(refused(-18.0, Lea, Tex), "value");
        assert_eq!(refused(18.0, Lea, Mm), "to");
    }

    #[test]
    fn a_length_is_no_area() {
        let wrong = Convert {
            value: 1.0,
            from: Iron,
            to: Ft2,
        };
        assert_eq!(wrong.calculate().unwrap_err().field, "to");
    }

    proptest! {
        #[test]
        fn there_and_back_and_four_ounces_are_three_irons(value in -1e6..1e6f64) {
            let lengths = [Mm, Cm, In, Iron, Ounce, Line, Eighth, Point, Barleycorn];
            for (from, to) in lengths.into_iter().flat_map(|from| lengths.map(|to| (from, to))) {
                prop_assert!((convert(convert(value, from, to), to, from) - value).abs() <= 1e-9 * value.abs());
            }
            let ounces = convert(value, Iron, Ounce);
            prop_assert!((ounces - value * 4.0 / 3.0).abs() <= 1e-9 * value.abs());
        }
    }
}
