//! How many lifts a heel needs.
//!
//! Whole lifts up, the last one skived to what is left. A last lift thinner than [`LEAST_LAST_MM`] is not laid: the
//! lifts under it are made a little thicker instead, all alike (common practice, no source).

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::{AnswerField, Calculation, Field, InvalidField};

const HEIGHT: Field = Field::number("height_mm", "mm, of the whole heel", 1.0, 300.0);
const TOP_PIECE: Field = Field::number("top_piece_mm", "mm, no more than height_mm", 0.0, 50.0);
const LIFT: Field = Field::number("lift_mm", "mm, one layer", 0.5, 50.0);
/// The least thickness of the last lift, mm; of lifts thinner than twice that, half a lift. Common practice, no source.
pub const LEAST_LAST_MM: f64 = 1.0;
/// A number of lifts within this of a whole number is whole, in spite of rounding errors.
const WHOLE: f64 = 1e-9;

/// A heel to be built.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stack {
    /// The height of the whole heel, mm.
    pub height_mm: f64,
    /// The thickness of its top piece, mm.
    pub top_piece_mm: f64,
    /// The thickness of one lift, mm.
    pub lift_mm: f64,
}

/// The lifts of a heel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Lifts {
    /// (height − top piece) / lift.
    pub exact: f64,
    /// The number of lifts to cut: `exact` rounded up, or one fewer where the last would be too thin.
    pub lifts: u32,
    /// The thickness of every lift but the last, mm: more than that of the stock where the last would be too thin; 0
    /// without lifts.
    pub each_mm: f64,
    /// The thickness of the last lift after skiving, mm; 0 without lifts.
    pub last_mm: f64,
}

impl Calculation for Stack {
    const NAME: &'static str = "lifts";
    const TAKES: &'static [Field] = &[HEIGHT, TOP_PIECE, LIFT];
    const GIVES: &'static [AnswerField] = gives![
        "exact" "lifts, not rounded", "lifts" "lifts to cut", "each_mm" "mm, every lift but the last",
        "last_mm" "mm, the last one skived",
    ];
    type Answer = Lifts;

    fn calculate(&self) -> Result<Lifts, InvalidField> {
        let stack = HEIGHT.check(self.height_mm)? - TOP_PIECE.check(self.top_piece_mm)?;
        if stack < 0.0 {
            return Err(TOP_PIECE.refused());
        }
        let lift = LIFT.check(self.lift_mm)?;
        let exact = stack / lift;
        let whole = (exact - WHOLE).ceil().max(0.0);
        let last = stack - (whole - 1.0) * lift;
        let least = LEAST_LAST_MM.min(lift / 2.0);
        let (count, each_mm, last_mm) = if whole == 0.0 {
            (0.0, 0.0, 0.0)
        } else if whole > 1.0 && last < least - WHOLE {
            let shared = stack / (whole - 1.0);
            (whole - 1.0, shared, shared)
        } else {
            (whole, lift, last)
        };
        Ok(Lifts {
            exact,
            // At most 300 mm in lifts of half a millimetre.
            lifts: count as u32,
            each_mm,
            last_mm,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Closed form: (30 − 6) / 5 = 4.8, so five lifts, the last of 4 mm.
    #[test]
    fn the_last_lift_is_skived() {
        let stack = Stack {
            height_mm: 30.0,
            top_piece_mm: 6.0,
            lift_mm: 5.0,
        };
        let lifts = stack.calculate().unwrap();
        assert_eq!((lifts.exact, lifts.lifts, lifts.last_mm), (4.8, 5, 4.0));
        assert_eq!(lifts.each_mm, 5.0);
        let bare = Stack {
            height_mm: 6.0,
            ..stack
        };
        assert_eq!(bare.calculate().unwrap().lifts, 0);
        let thick = Stack {
            height_mm: 5.0,
            ..stack
        };
        assert_eq!(thick.calculate().unwrap_err().field, "top_piece_mm");
    }

    /// Closed form: (36.2 − 6) / 5 = 6.04. A seventh lift of 0.2 mm is nothing to skive: six of 30.2 / 6 = 5.033 mm. A
    /// last one of 1 mm is laid.
    #[test]
    fn a_last_lift_that_is_too_thin_is_shared_out() {
        let stack = |height_mm, lift_mm| {
            let stack = Stack {
                height_mm,
                top_piece_mm: 6.0,
                lift_mm,
            };
            stack.calculate().unwrap()
        };
        let shared = stack(36.2, 5.0);
        assert_eq!(shared.lifts, 6);
        assert!((shared.each_mm - 30.2 / 6.0).abs() < 1e-12 && shared.last_mm == shared.each_mm);
        assert!(
            (shared.exact - 6.04).abs() < 1e-12,
            "what the stock gives is told as it is"
        );
        let laid = stack(37.0, 5.0);
        assert_eq!((laid.lifts, laid.each_mm, laid.last_mm), (7, 5.0, 1.0));
        let thin_stock = stack(8.5, 1.0);
        assert_eq!((thin_stock.lifts, thin_stock.last_mm), (3, 0.5));
        let alone = stack(6.3, 5.0);
        assert_eq!(alone.lifts, 1, "there is no other lift to share it");
    }

    proptest! {
        #[test]
        fn the_stack_is_as_high_as_it_should_be(
            height in 10.0..100.0f64, top in 0.0..9.0f64, lift in 0.5..10.0f64,
        ) {
            let stack = Stack { height_mm: height, top_piece_mm: top, lift_mm: lift };
            let lifts = stack.calculate().unwrap();
            let built = f64::from(lifts.lifts - 1) * lifts.each_mm + lifts.last_mm + top;
            prop_assert!((built - height).abs() < 1e-9);
            prop_assert!(lifts.last_mm > 0.0 && lifts.last_mm <= lifts.each_mm + 1e-6);
            let least = LEAST_LAST_MM.min(lift / 2.0);
            prop_assert!(lifts.lifts == 1 || lifts.last_mm > least - 1e-6, "nothing too thin is laid");
            prop_assert!((lifts.each_mm - lift) * f64::from(lifts.lifts) < least + 1e-6, "and little is shared out");
        }
    }
}
