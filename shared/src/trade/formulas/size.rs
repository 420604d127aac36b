//! Shoe sizes. There is no single answer: the millimetres are kept, and a size is shown as "about, nearest half,
//! system, reading".
//!
//! The reading is the one that secondary articles give of ISO/TS 19407:2015 (replaced by ISO 19407:2023, whose
//! tables were not seen): with the foot F in mm, adults EU = 0.15 F + 2 and UK = 3 F / 25.4 − 23; children
//! EU = 1.08 · 0.15 F and UK = 1.08 · 3 F / 25.4 − 12. US men = UK + 1 and US women = UK + 2 for both; for children
//! those two columns are boys and girls. A Paris point is 2/3 cm, a barleycorn 1/3 in (GNU units).

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::{Allowed, AnswerField, Calculation, Field, InvalidField, MM_PER_INCH};

/// A Paris point, the step of EU sizes, in mm.
pub const PARIS_POINT_MM: f64 = 20.0 / 3.0;
/// A barleycorn, the step of UK and US sizes, in mm.
pub const BARLEYCORN_MM: f64 = MM_PER_INCH / 3.0;
/// The length of a child's last, as a multiple of the foot.
const CHILD_LAST: f64 = 1.08;
/// How many sizes of its system an adult's last is longer than the foot.
const ADULT_SIZES: f64 = 2.0;
/// UK sizes of adults begin at a last of 25 barleycorns, those of children 13 sizes lower.
const ADULT_ZERO: f64 = 25.0;
const CHILD_ZERO: f64 = 12.0;
/// A tie stays a tie in spite of a few rounding errors.
const TIE: f64 = 1e-9;

const GROUP: Field = Field::new("group", "", Allowed::Word(&["adult", "child"]));
const FOOT: Field = Field::number("foot_mm", "mm, or system and size", 60.0, 400.0).or_none();
const SYSTEM: Field = Field::new(
    "system",
    "with size, in place of foot_mm",
    Allowed::Word(&["eu", "uk", "us_men", "us_women"]),
)
.or_none();
const SIZE: Field = Field::number(
    "size",
    "in the system; the foot must be 60 to 400 mm",
    -20.0,
    65.0,
)
.or_none();

/// The age group of a foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FootGroup {
    /// Adults.
    Adult,
    /// Children.
    Child,
}

/// A system of sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum System {
    /// Paris points.
    Eu,
    /// Barleycorns.
    Uk,
    /// Barleycorns, men and boys.
    UsMen,
    /// Barleycorns, women and girls.
    UsWomen,
}

/// A foot, by its length or by its size in a system.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Foot {
    /// The age group.
    pub group: FootGroup,
    /// The length of the foot, 60 to 400 mm; or else `system` and `size`.
    pub foot_mm: Option<f64>,
    /// The system of `size`.
    pub system: Option<System>,
    /// The size in `system`.
    pub size: Option<f64>,
}

/// A size in every system.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct InAll {
    /// EU.
    pub eu: f64,
    /// UK.
    pub uk: f64,
    /// US men; boys for a child.
    pub us_men: f64,
    /// US women; girls for a child.
    pub us_women: f64,
}

/// The sizes of one foot in every system, and how they were determined.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sizes {
    /// The length of the foot, mm.
    pub foot_mm: f64,
    /// The length of the last, mm, in the given system; EU if a length was given.
    pub last_mm: f64,
    /// The sizes, not rounded.
    #[serde(flatten)]
    pub exact: InAll,
    /// The sizes to the nearest half, ties up.
    pub nearest_half: InAll,
    /// Which reading of the standard this is, and which sources differ.
    pub reading: &'static str,
}

const ADULT_READING: &str = "secondary reading of ISO/TS 19407:2015, adults: last = foot + 2 sizes of its system, \
     EU = 0.15 F + 2, UK = 3 F / 25.4 - 23, US men = UK + 1, US women = UK + 2. Disagreeing: GNU units puts US men and \
     women 3/4 size off this; US women are UK + 2.5 on most public charts; public formulas also give UK = US - 0.5 and \
     EU = 1.5 (F in cm + 1.5); shops often pair EU 42 with UK 8 and US men 9, this reading says 8.5 and 9.5. Take every size as about";
const CHILD_READING: &str = "secondary reading of ISO/TS 19407:2015, children: last = 1.08 foot, \
     EU = 1.08 * 0.15 F, UK = 1.08 * 3 F / 25.4 - 12, US boys (us_men) = UK + 1, US girls (us_women) = UK + 2. Disagreeing: GNU units \
     puts US boys and girls 3/4 size off this; public charts differ by up to a size. Take every size as about";

impl FootGroup {
    /// The sizes of a foot of a length in mm.
    pub fn sizes(self, foot_mm: f64) -> InAll {
        let barleycorns = foot_mm / BARLEYCORN_MM;
        let (eu, uk) = match self {
            // 3 F / 20 instead of 0.15 F: 0.15 has no exact binary representation, and ties would be missed.
            FootGroup::Adult => (
                foot_mm * 3.0 / 20.0 + ADULT_SIZES,
                barleycorns + ADULT_SIZES - ADULT_ZERO,
            ),
            FootGroup::Child => (
                CHILD_LAST * foot_mm * 3.0 / 20.0,
                CHILD_LAST * barleycorns - CHILD_ZERO,
            ),
        };
        InAll {
            eu,
            uk,
            us_men: uk + 1.0,
            us_women: uk + 2.0,
        }
    }

    /// The length in mm of a foot with a size in a system: the inverse of [`FootGroup::sizes`].
    pub fn foot_mm(self, system: System, size: f64) -> f64 {
        let last = system.last_mm(self, size);
        match self {
            FootGroup::Adult => last - ADULT_SIZES * system.step_mm(),
            FootGroup::Child => last / CHILD_LAST,
        }
    }

    fn last_mm(self, system: System, foot_mm: f64) -> f64 {
        match self {
            FootGroup::Adult => foot_mm + ADULT_SIZES * system.step_mm(),
            FootGroup::Child => CHILD_LAST * foot_mm,
        }
    }
}

impl System {
    /// The length of one size, in mm of the last.
    pub fn step_mm(self) -> f64 {
        match self {
            System::Eu => PARIS_POINT_MM,
            System::Uk | System::UsMen | System::UsWomen => BARLEYCORN_MM,
        }
    }

    fn last_mm(self, group: FootGroup, size: f64) -> f64 {
        let zero = match (self, group) {
            (System::Eu, _) => 0.0,
            (_, FootGroup::Adult) => ADULT_ZERO,
            (_, FootGroup::Child) => CHILD_ZERO,
        };
        let beyond_uk = match self {
            System::Eu | System::Uk => 0.0,
            System::UsMen => 1.0,
            System::UsWomen => 2.0,
        };
        (size - beyond_uk + zero) * self.step_mm()
    }
}

impl Foot {
    fn known(&self) -> Result<(System, f64), InvalidField> {
        match (self.foot_mm, self.system, self.size) {
            (Some(foot), None, None) => Ok((System::Eu, FOOT.check(foot)?)),
            (None, Some(system), Some(size)) => {
                let foot = self.group.foot_mm(system, SIZE.check(size)?);
                FOOT.check(foot).map_err(|_| SIZE.refused())?;
                Ok((system, foot))
            }
            (None, None, None) => Err(FOOT.refused_as("foot_mm, or system and size, must be there")),
            (None, Some(_), None) => Err(SIZE.refused_as("must be there with system")),
            (None, None, Some(_)) => Err(SYSTEM.refused()),
            (Some(_), ..) => Err(FOOT.refused_as("alone, or system and size in its place")),
        }
    }
}

impl InAll {
    /// Each size to the nearest half, ties up.
    #[must_use]
    pub fn nearest_half(self) -> Self {
        let half = |size: f64| (2.0 * size + 0.5 + TIE).floor() / 2.0;
        Self {
            eu: half(self.eu),
            uk: half(self.uk),
            us_men: half(self.us_men),
            us_women: half(self.us_women),
        }
    }
}

impl Calculation for Foot {
    const NAME: &'static str = "size";
    const TAKES: &'static [Field] = &[GROUP, FOOT, SYSTEM, SIZE];
    const GIVES: &'static [AnswerField] = gives![
        "foot_mm" "mm", "last_mm" "mm, in the system asked for, EU for a length", "eu" "size", "uk" "size",
        "us_men" "size", "us_women" "size", "nearest_half" "the same four, nearest half size, ties up",
        "reading" "which reading of the formulas, and who disagrees",
    ];
    type Answer = Sizes;

    fn calculate(&self) -> Result<Sizes, InvalidField> {
        let (system, foot_mm) = self.known()?;
        let exact = self.group.sizes(foot_mm);
        Ok(Sizes {
            foot_mm,
            last_mm: self.group.last_mm(system, foot_mm),
            exact,
            nearest_half: exact.nearest_half(),
            reading: match self.group {
                FootGroup::Adult => ADULT_READING,
                FootGroup::Child => CHILD_READING,
            },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn of_foot(group: FootGroup, foot_mm: f64) -> Sizes {
        let foot = Foot {
            group,
            foot_mm: Some(foot_mm),
            system: None,
            size: None,
        };
        foot.calculate().unwrap()
    }

    /// npm shoe-size-converter 1.0.1 (a library after ISO/TS 19407:2015): nearest halves; 255 and 265 are ties.
    #[test]
    fn adults_as_an_independent_library_rounds_them() {
        let table = [
            (220.0, [35.0, 3.0, 4.0, 5.0]),
            (240.0, [38.0, 5.5, 6.5, 7.5]),
            (250.0, [39.5, 6.5, 7.5, 8.5]),
            (255.0, [40.5, 7.0, 8.0, 9.0]),
            (260.0, [41.0, 7.5, 8.5, 9.5]),
            (265.0, [42.0, 8.5, 9.5, 10.5]),
            (270.0, [42.5, 9.0, 10.0, 11.0]),
            (280.0, [44.0, 10.0, 11.0, 12.0]),
            (300.0, [47.0, 12.5, 13.5, 14.5]),
        ];
        for (foot, [eu, uk, us_men, us_women]) in table {
            let expected = InAll {
                eu,
                uk,
                us_men,
                us_women,
            };
            assert_eq!(of_foot(FootGroup::Adult, foot).nearest_half, expected, "{foot}");
        }
    }

    /// The same library, children.
    #[test]
    fn children_as_an_independent_library_rounds_them() {
        for (foot, eu, uk) in [
            (120.0, 19.5, 3.5),
            (150.0, 24.5, 7.0),
            (170.0, 27.5, 9.5),
            (190.0, 31.0, 12.0),
        ] {
            let half = of_foot(FootGroup::Child, foot).nearest_half;
            assert_eq!((half.eu, half.uk), (eu, uk), "{foot}");
        }
    }

    /// Closed form: EU 42 is a last of 42 Paris points, UK 5 of 30 barleycorns (ten inches).
    #[test]
    fn lasts_and_feet_of_a_size() {
        for (system, size, last, foot) in [
            (System::Eu, 42.0, 280.0, 266.667),
            (System::Eu, 38.0, 253.333, 240.0),
            (System::Eu, 44.0, 293.333, 280.0),
            (System::Uk, 5.0, 254.0, 237.067),
            (System::Uk, 8.0, 279.4, 262.467),
            (System::Uk, 9.0, 287.867, 270.933),
        ] {
            let asked = Foot {
                group: FootGroup::Adult,
                foot_mm: None,
                system: Some(system),
                size: Some(size),
            };
            let got = asked.calculate().unwrap();
            assert!((got.last_mm - last).abs() < 5e-4, "{size}: {}", got.last_mm);
            assert!((got.foot_mm - foot).abs() < 5e-4, "{size}: {}", got.foot_mm);
        }
    }

    #[test]
    fn a_foot_is_known_in_one_way() {
        let asked = |foot_mm, system, size| Foot {
            group: FootGroup::Adult,
            foot_mm,
            system,
            size,
        };
        for (foot, field) in [
            (asked(None, None, None), "foot_mm"),
            (asked(Some(260.0), None, Some(41.0)), "foot_mm"),
            (asked(None, Some(System::Eu), None), "size"),
            (asked(None, None, Some(41.0)), "system"),
            (asked(None, Some(System::Eu), Some(4.0)), "size"),
        ] {
            assert_eq!(foot.calculate().unwrap_err().field, field);
        }
    }

    proptest! {
        #[test]
        fn there_and_back(
            foot in 60.0..400.0f64,
            group in prop::sample::select(vec![FootGroup::Adult, FootGroup::Child]),
        ) {
            let all = group.sizes(foot);
            for (system, size) in [
                (System::Eu, all.eu), (System::Uk, all.uk), (System::UsMen, all.us_men), (System::UsWomen, all.us_women),
            ] {
                prop_assert!((group.foot_mm(system, size) - foot).abs() < 1e-9);
            }
        }

        #[test]
        fn a_longer_foot_never_has_a_smaller_size(foot in 60.0..399.0f64, more in 0.0..1.0f64) {
            let (short, long) = (of_foot(FootGroup::Adult, foot), of_foot(FootGroup::Adult, foot + more));
            prop_assert!(long.exact.uk >= short.exact.uk && long.nearest_half.eu >= short.nearest_half.eu);
            prop_assert!((short.nearest_half.eu - short.exact.eu).abs() <= 0.25 + 1e-6);
        }
    }
}
