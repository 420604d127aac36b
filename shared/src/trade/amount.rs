//! How much an agreed line is of an operation: its variant, the number of pieces, and whether it is on one shoe.
//!
//! Common practice, no source.

use super::operations::operation;
use crate::log::body::{Agreed, Side};

/// The amount, in percent, of the usual work on a pair, or on one piece.
pub const USUAL_AMOUNT: u32 = 100;
/// The work on one shoe, in percent of that on both: a little more than half, because tools are laid out all the same.
pub const ONE_SHOE_AMOUNT: u32 = 55;
/// More pieces than this count as so many: a slip of the finger must not fill a week.
const MOST_PIECES: u32 = 50;
/// On both shoes.
const BOTH: &Side = &Side::Both;

/// An operation, and what decides how much of it a line is.
#[derive(Debug, Clone, Copy)]
pub struct LineSize<'a> {
    /// The operation, a word of the trade's list or the shop's own.
    pub operation: &'a str,
    /// Its variant; `None` for none in particular.
    pub variant: Option<&'a str>,
    /// How many pieces; 0 counts as one.
    pub count: u32,
    /// Which shoe.
    pub side: &'a Side,
}

impl<'a> LineSize<'a> {
    /// An operation on both shoes, or on one piece, in no variant in particular.
    pub fn usual(operation: &'a str) -> Self {
        Self {
            operation,
            variant: None,
            count: 1,
            side: BOTH,
        }
    }
}

impl<'a> From<&'a Agreed> for LineSize<'a> {
    fn from(line: &'a Agreed) -> Self {
        Self {
            operation: &line.operation,
            variant: line.variant(),
            count: line.pieces(),
            side: &line.side,
        }
    }
}

impl LineSize<'_> {
    /// How much work it is, in percent of the operation's usual minutes.
    pub fn percent(&self) -> u32 {
        let variant = self
            .variant
            .and_then(|code| operation(self.operation)?.variant(code));
        let percent = variant.map_or(USUAL_AMOUNT, |variant| u32::from(variant.minutes_percent));
        let each = self.count.clamp(1, MOST_PIECES) * percent;
        if matches!(self.side, Side::Left | Side::Right) {
            (each * ONE_SHOE_AMOUNT).div_ceil(USUAL_AMOUNT)
        } else {
            each
        }
    }

    /// The same as a factor.
    pub fn factor(&self) -> f64 {
        f64::from(self.percent()) / f64::from(USUAL_AMOUNT)
    }
}

/// Whether the lines of an operation have a height that somebody prescribed. It is told, and changes neither the price nor
/// the minutes.
pub fn takes_height(operation: &str) -> bool {
    operation == "raise_to_prescription"
}

/// How much work a line is, in percent of the operation's usual minutes.
pub fn amount_percent(line: &Agreed) -> u32 {
    LineSize::from(line).percent()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::operations;
    use proptest::prelude::*;

    fn percent(operation: &str, variant: Option<&str>, pieces: u32, side: &Side) -> u32 {
        let size = LineSize {
            operation,
            variant,
            count: pieces,
            side,
        };
        size.percent()
    }

    proptest! {
        /// So many pieces are so many times the work, and one shoe is more than half of two and less than both.
        #[test]
        fn pieces_add_up_and_one_shoe_is_a_little_more_than_half(
            at in 0..operations().count(),
            variant in 0usize..4,
            pieces in 1u32..=50,
        ) {
            let known = operations().nth(at).unwrap();
            let variant = known.variants.get(variant).map(|one| one.code);
            let both = percent(known.code, variant, 1, &Side::Both);
            prop_assert_eq!(percent(known.code, variant, pieces, &Side::Both), pieces * both);
            for side in [Side::Left, Side::Right] {
                let one = percent(known.code, variant, pieces, &side);
                prop_assert!(2 * one >= pieces * both && one < pieces * both + 1);
            }
        }
    }

    #[test]
    fn what_is_not_known_is_the_usual_work() {
        assert_eq!(
            percent("bell repair", Some("brass"), 0, &Side::from("middle")),
            USUAL_AMOUNT
        );
        assert_eq!(
            percent("new_hole", None, 1_000_000, &Side::Both),
            50 * USUAL_AMOUNT
        );
    }
}
