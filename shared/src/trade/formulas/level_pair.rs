//! Whether the two heels of a pair have the same height and wedge, and what to take off or add.
//!
//! Within tolerance: heights ±1 mm, wedge ±1° (common practice, no source). No standard gives a pass figure for a
//! repaired stacked heel, so none is claimed. A difference of more than [`ASK_ABOVE_MM`] may be meant, so it is asked
//! about before it is levelled (common practice, no source). Orthopaedic heights are as prescribed, and never
//! levelled.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::heel::Heel;
use super::{Allowed, AnswerField, Calculation, Field, InvalidField};

/// The tolerance of the difference of two heights, mm.
pub const HEIGHT_TOLERANCE_MM: f64 = 1.0;
/// The tolerance of the difference of two wedges, degrees.
pub const WEDGE_TOLERANCE_DEG: f64 = 1.0;
/// A greater difference of two heights is asked about before it is levelled, mm.
pub const ASK_ABOVE_MM: f64 = 6.0;
/// A difference at the tolerance is within it, in spite of rounding errors.
const LIMIT: f64 = 1e-9;

const LEFT: Field = Field::new("left", "", Allowed::Group(Heel::FIELDS));
const RIGHT: Field = Field::new("right", "", Allowed::Group(Heel::FIELDS));
const HEIGHTS: Field = Field::new(
    "heights",
    "alike if left out; prescribed for orthopaedic heights, which are never levelled",
    Allowed::Word(&["alike", "prescribed"]),
)
.or_none();

/// How high the two heels of a pair should be.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HeightsMeant {
    /// Both alike.
    #[default]
    Alike,
    /// Each as it was prescribed: an orthopaedic raise.
    Prescribed,
}

/// The heels of a pair.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HeelPair {
    /// The left heel.
    pub left: Heel,
    /// The right heel.
    pub right: Heel,
    /// How high they should be; alike if absent.
    pub heights: Option<HeightsMeant>,
}

/// A shoe of the pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The left shoe.
    Left,
    /// The right shoe.
    Right,
}

/// A place on a heel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum HeelPlace {
    /// At the back.
    Back,
    /// At the breast.
    Breast,
}

/// A change of height at one place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LevelChange {
    /// The shoe.
    pub side: Side,
    /// The place on its heel.
    pub place: HeelPlace,
    /// The amount, mm.
    pub mm: f64,
}

/// The differences between two heels, each left minus right.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Levelled {
    /// The difference of the heights at the back, mm.
    pub back_difference_mm: f64,
    /// The difference of the heights at the breast, mm.
    pub breast_difference_mm: f64,
    /// The difference of the lengths, mm, which needs no work.
    pub length_difference_mm: f64,
    /// The difference of the wedges, degrees.
    pub wedge_difference_deg: f64,
    /// Whether the heights at the back are within tolerance.
    pub back_within: bool,
    /// Whether the heights at the breast are within tolerance.
    pub breast_within: bool,
    /// Whether the wedges are within tolerance.
    pub wedge_within: bool,
    /// Whether to ask first if the difference is meant: it is more than [`ASK_ABOVE_MM`].
    pub ask_first: bool,
    /// What to take off the higher heel; the alternative to `add`. Empty for prescribed heights.
    pub take_off: Vec<LevelChange>,
    /// What to add to the lower heel; the alternative to `take_off`. Empty for prescribed heights.
    pub add: Vec<LevelChange>,
    /// Why nothing is levelled, or what to ask first; `None` where there is nothing to say.
    pub reason: Option<&'static str>,
}

impl Calculation for HeelPair {
    const NAME: &'static str = "level_pair";
    const TAKES: &'static [Field] = &[LEFT, RIGHT, HEIGHTS];
    const GIVES: &'static [AnswerField] = gives![
        "back_difference_mm" "mm, left less right", "breast_difference_mm" "mm, left less right",
        "length_difference_mm" "mm, left less right", "wedge_difference_deg" "degrees, left less right",
        "back_within" "within 1 mm, common practice", "breast_within" "within 1 mm, common practice",
        "wedge_within" "within 1 degree, common practice", "ask_first" "true above 6 mm, common practice",
        "take_off" "list of side, place, mm: either this off the higher", "add" "list of side, place, mm: or this on the lower",
        "reason" "what to ask first, or why nothing is levelled, or null",
    ];
    type Answer = Levelled;

    fn calculate(&self) -> Result<Levelled, InvalidField> {
        let left = self
            .left
            .calculate()
            .map_err(|refused| refused.within(LEFT.name))?;
        let right = self
            .right
            .calculate()
            .map_err(|refused| refused.within(RIGHT.name))?;
        let back = self.left.back_mm - self.right.back_mm;
        let breast = self.left.breast_mm - self.right.breast_mm;
        let wedge = left.wedge_deg - right.wedge_deg;
        let prescribed = self.heights.unwrap_or_default() == HeightsMeant::Prescribed;
        let ask_first = !prescribed && back.abs().max(breast.abs()) > ASK_ABOVE_MM + LIMIT;
        let differences = [(HeelPlace::Back, back), (HeelPlace::Breast, breast)];
        let changes = |on_left: fn(f64) -> bool| match prescribed {
            true => Vec::new(),
            false => changes(differences, on_left),
        };
        Ok(Levelled {
            back_difference_mm: back,
            breast_difference_mm: breast,
            length_difference_mm: self.left.length_mm - self.right.length_mm,
            wedge_difference_deg: wedge,
            back_within: back.abs() <= HEIGHT_TOLERANCE_MM + LIMIT,
            breast_within: breast.abs() <= HEIGHT_TOLERANCE_MM + LIMIT,
            wedge_within: wedge.abs() <= WEDGE_TOLERANCE_DEG + LIMIT,
            ask_first,
            take_off: changes(|difference| difference > 0.0),
            add: changes(|difference| difference < 0.0),
            reason: match (prescribed, ask_first) {
                (true, _) => {
                    Some("the heights are as prescribed: they are never levelled without the prescriber")
                }
                (false, true) => {
                    Some("they differ by more than 6 mm: ask whether that is meant before levelling")
                }
                (false, false) => None,
            },
        })
    }
}

/// A change for each place that differs, on the left shoe where `on_left` returns true.
fn changes(differences: [(HeelPlace, f64); 2], on_left: impl Fn(f64) -> bool) -> Vec<LevelChange> {
    let differing = differences
        .into_iter()
        .filter(|(_, difference)| *difference != 0.0);
    differing
        .map(|(place, difference)| LevelChange {
            side: if on_left(difference) {
                Side::Left
            } else {
                Side::Right
            },
            place,
            mm: difference.abs(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pair(left: [f64; 3], right: [f64; 3]) -> HeelPair {
        let heel = |[back_mm, breast_mm, length_mm]: [f64; 3]| Heel {
            back_mm,
            breast_mm,
            length_mm,
        };
        HeelPair {
            left: heel(left),
            right: heel(right),
            heights: None,
        }
    }

    #[test]
    fn two_millimetres_off_the_left() {
        let levelled = pair([32.0, 26.0, 60.0], [30.0, 26.0, 60.0]).calculate().unwrap();
        let two = |side| LevelChange {
            side,
            place: HeelPlace::Back,
            mm: 2.0,
        };
        assert_eq!(levelled.take_off, [two(Side::Left)]);
        assert_eq!(levelled.add, [two(Side::Right)]);
        assert!(!levelled.back_within && levelled.breast_within && !levelled.wedge_within);
    }

    /// Common practice, no source: up to 6 mm are levelled, above that it is asked first.
    #[test]
    fn a_great_difference_is_asked_about_first() {
        let six = pair([36.0, 26.0, 60.0], [30.0, 26.0, 60.0]).calculate().unwrap();
        assert_eq!((six.ask_first, six.reason), (false, None));
        let more = pair([30.0, 26.0, 60.0], [30.0, 32.5, 60.0]).calculate().unwrap();
        assert!(more.ask_first && more.reason.unwrap().contains("ask"));
        assert_eq!(more.take_off.len(), 1, "what would level it is told too");
    }

    #[test]
    fn prescribed_heights_are_never_levelled() {
        let raised = HeelPair {
            heights: Some(HeightsMeant::Prescribed),
            ..pair([50.0, 40.0, 60.0], [30.0, 26.0, 60.0])
        };
        let got = raised.calculate().unwrap();
        assert!(got.take_off.is_empty() && got.add.is_empty() && !got.ask_first);
        assert_eq!(got.back_difference_mm, 20.0);
        assert!(got.reason.unwrap().contains("as prescribed"));
    }

    #[test]
    fn a_field_is_named_with_its_side() {
        let refused = pair([30.0, 26.0, 60.0], [30.0, 26.0, 0.0])
            .calculate()
            .unwrap_err();
        assert_eq!(refused.field, "right.length_mm");
    }

    proptest! {
        #[test]
        fn left_and_right_changed_over_is_the_same_work_on_the_other_side(
            left in [20.0..60.0f64, 10.0..60.0, 50.0..70.0], right in [20.0..60.0f64, 10.0..60.0, 50.0..70.0],
        ) {
            let (one, other) = (pair(left, right).calculate().unwrap(), pair(right, left).calculate().unwrap());
            prop_assert_eq!(one.back_difference_mm, -other.back_difference_mm);
            prop_assert_eq!(one.wedge_within, other.wedge_within);
            for (here, there) in one.take_off.iter().zip(&other.take_off) {
                prop_assert!(here.side != there.side && here.mm == there.mm);
            }
        }

        #[test]
        fn what_is_taken_off_levels_the_pair(
            left in [20.0..60.0f64, 15.0..60.0, 60.0..60.001], right in [20.0..60.0f64, 15.0..60.0, 60.0..60.001],
        ) {
            let mut both = pair(left, right);
            for change in both.calculate().unwrap().take_off {
                let heel = if change.side == Side::Left { &mut both.left } else { &mut both.right };
                match change.place {
                    HeelPlace::Back => heel.back_mm -= change.mm,
                    HeelPlace::Breast => heel.breast_mm -= change.mm,
                }
            }
            let after = both.calculate().unwrap();
            prop_assert!(after.back_difference_mm.abs() < 1e-9 && after.breast_difference_mm.abs() < 1e-9);
            prop_assert!(after.back_within && after.breast_within && after.wedge_within);
        }
    }
}
