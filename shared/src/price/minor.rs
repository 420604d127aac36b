//! Amounts of money.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Neg, Sub};

use serde::{Deserialize, Serialize};

/// An amount in minor units of the shop's currency: cents, or whole units where the currency has no decimals. See
/// [`Currency::decimals`](super::currency::Currency::decimals).
///
/// In JSON it is the bare number. Entries may hold any amount, also one that only a faulty app writes; so arithmetic
/// saturates at the greatest and the least amount and never overflows.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Minor(pub i64);

impl Minor {
    /// No money.
    pub const ZERO: Self = Self(0);

    /// The amount nearest to a calculated one, halves away from zero; [`Minor::ZERO`] if it is not a number.
    pub fn rounded(amount: f64) -> Self {
        Self(amount.round() as i64)
    }

    /// For calculations that are rounded at their end. Exact up to 2⁵³ minor units.
    pub fn as_f64(self) -> f64 {
        self.0 as f64
    }

    /// The amount without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        Self(self.0.saturating_abs())
    }

    /// Whether it is more than nothing.
    pub fn is_positive(&self) -> bool {
        self.0 > 0
    }

    /// Whether it is nothing, as serde's `skip_serializing_if` asks it.
    pub fn is_zero(&self) -> bool {
        self.0 == 0
    }
}

impl From<Minor> for serde_json::Value {
    fn from(amount: Minor) -> Self {
        amount.0.into()
    }
}

impl Add for Minor {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Minor {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Neg for Minor {
    type Output = Self;

    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl AddAssign for Minor {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sum for Minor {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Self::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_greatest_and_the_least_amount_are_the_end() {
        let (greatest, least) = (Minor(i64::MAX), Minor(i64::MIN));
        assert_eq!([greatest + Minor(1), least - Minor(1)], [greatest, least]);
        assert_eq!(-least, greatest);
        assert_eq!([greatest, greatest, least].into_iter().sum::<Minor>(), Minor(-1));
    }

    #[test]
    fn calculated_amounts_are_rounded_to_the_nearest_unit() {
        let rounded = [2.5, -2.5, 2.4, f64::NAN, f64::INFINITY].map(Minor::rounded);
        assert_eq!(
            rounded,
            [Minor(3), Minor(-3), Minor(2), Minor(0), Minor(i64::MAX)]
        );
    }

    #[test]
    fn in_json_it_is_a_number() {
        assert_eq!(serde_json::to_string(&Minor(-450)).unwrap(), "-450");
        assert_eq!(serde_json::from_str::<Minor>("450").unwrap(), Minor(450));
    }
}
