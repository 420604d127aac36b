//! Values that are left out on the wire because they are the usual ones.

use crate::log::body::Side;

/// The usual shoe: both.
pub(super) fn both() -> Side {
    Side::Both
}

pub(super) fn is_both(side: &Side) -> bool {
    *side == Side::Both
}

/// The usual number of pieces.
pub(super) fn one() -> u32 {
    1
}

pub(super) fn is_one(pieces: &u32) -> bool {
    *pieces == 1
}

pub(super) fn not(flag: &bool) -> bool {
    !*flag
}
