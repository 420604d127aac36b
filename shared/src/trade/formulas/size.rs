//! Shoe sizes. There is no single answer: the millimetres are kept, and a size is shown as "about, nearest half,
//! system, reading".
//!
//! The reading is the one that secondary articles give of ISO/TS 19407:2015 (replaced by ISO 19407:2023, whose
//! tables were not seen): with the foot F in mm, adults EU = 0.15 F + 2 and UK = 3 F / 25.4 − 23; children
//! EU = 1.08 · 0.15 F and UK = 1.08 · 3 F / 25.4 − 12. US men = UK + 1 and US women = UK + 2 for both; for children
//! those two columns are boys and girls. A Paris point is 2/3 cm, a barleycorn 1/3 in (GNU units).
//!
//! After the children's 13½ UK and US sizes begin again at 1, which is the adults' 1; and makers put a child's US size
//! half a size to one above the UK one: UK 12 is US 12½ or 13 (two makers' charts).

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
/// The last size of children in UK and US sizes: the next half is 1 again, this many sizes lower.
const LAST_CHILD: f64 = 13.5;
const BEGUN_AGAIN: f64 = 13.0;
/// How many sizes makers put a child's US size above the UK one, from and to.
const CHILD_US: [f64; 2] = [0.5, 1.0];
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
    /// The sizes, not rounded; those of children are counted on after 13½.
    #[serde(flatten)]
    pub exact: InAll,
    /// The sizes to the nearest half, ties up; those of children begin again at 1 after 13½.
    pub nearest_half: InAll,
    /// A child's US size from and to, by the maker, to the nearest half; `None` for adults.
    pub us_child: Option<[f64; 2]>,
    /// Which reading of the standard this is, and which sources differ.
    pub reading: &'static str,
}

const ADULT_READING: &str = "secondary reading of ISO/TS 19407:2015, adults: last = foot + 2 sizes of its system, \
     EU = 0.15 F + 2, UK = 3 F / 25.4 - 23, US men = UK + 1, US women = UK + 2. Disagreeing: GNU units puts US men and \
     women 3/4 size off this; US women are UK + 2.5 on most public charts; public formulas also give UK = US - 0.5 and \
     EU = 1.5 (F in cm + 1.5); shops often pair EU 42 with UK 8 and US men 9, this reading says 8.5 and 9.5. Take every size as about";
const CHILD_READING: &str = "secondary reading of ISO/TS 19407:2015, children: last = 1.08 foot, \
     EU = 1.08 * 0.15 F, UK = 1.08 * 3 F / 25.4 - 12, US boys (us_men) = UK + 1, US girls (us_women) = UK + 2. Disagreeing: GNU units \
     puts US boys and girls 3/4 size off this; public charts differ by up to a size, and by the maker UK 12 is \
     US 12.5 or 13. After 13.5 sizes begin again at 1, the adults' 1: nearest_half is so, the others are counted on. \
     Take every size as about";

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

    /// The sizes to the nearest half as they are marked: children's UK and US sizes begin again at 1 after 13½.
    fn marked(self, exact: InAll) -> InAll {
        let half = exact.nearest_half();
        InAll {
            eu: half.eu,
            uk: self.begun_again(half.uk),
            us_men: self.begun_again(half.us_men),
            us_women: self.begun_again(half.us_women),
        }
    }

    fn begun_again(self, size: f64) -> f64 {
        match self {
            FootGroup::Child if size > LAST_CHILD => size - BEGUN_AGAIN,
            _ => size,
        }
    }

    /// A child's US size from and to, by the maker; `None` for adults.
    fn us_child(self, exact: InAll) -> Option<[f64; 2]> {
        let uk = exact.nearest_half().uk;
        (self == FootGroup::Child).then(|| CHILD_US.map(|more| self.begun_again(uk + more)))
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
        "us_men" "size", "us_women" "size",
        "nearest_half" "the same four, nearest half size, ties up; a child's begin again at 1 after 13.5",
        "us_child" "a child's US size from and to, by the maker, or null",
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
            nearest_half: self.group.marked(exact),
            us_child: self.group.us_child(exact),
            reading: match self.group {
                FootGroup::Adult => ADULT_READING,
                FootGroup::Child => CHILD_READING,
            },
        })
    }
}

#[cfg(test)]
mod tests;
