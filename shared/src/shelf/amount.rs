//! Amounts of a material, in thousandths of its unit.

/// Thousandths of a unit in one unit.
const UNIT: i64 = 1_000;

/// An amount in units as thousandths, rounded to the nearest, halves away from zero; 0 if it is not a number.
pub fn thousandths(units: f64) -> i64 {
    (units * UNIT as f64).round() as i64
}

/// An amount as a person reads it: `3`, `0.5`, `-1.25`.
pub fn amount_words(thousandths: i64) -> String {
    let sign = if thousandths < 0 { "-" } else { "" };
    let all = thousandths.unsigned_abs();
    let (whole, part) = (all / UNIT.unsigned_abs(), all % UNIT.unsigned_abs());
    if part == 0 {
        return format!("{sign}{whole}");
    }
    let text = format!("{sign}{whole}.{part:03}");
    text.trim_end_matches('0').to_owned()
}

/// The amount in whole units that is not less than this one.
pub(super) fn whole_units(thousandths: i64) -> i64 {
    thousandths
        .saturating_add(UNIT - 1)
        .div_euclid(UNIT)
        .saturating_mul(UNIT)
}

/// A sum of amounts. It stops at the greatest and the least amount, whatever the order of its parts.
pub(super) fn total(amounts: impl Iterator<Item = i64>) -> i64 {
    let sum: i128 = amounts.map(i128::from).sum();
    let end = if sum < 0 { i64::MIN } else { i64::MAX };
    i64::try_from(sum).unwrap_or(end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_read_and_written_without_needless_digits() {
        let words = [3_000, 500, -1_250, 7, 0, -999].map(amount_words);
        assert_eq!(words, ["3", "0.5", "-1.25", "0.007", "0", "-0.999"]);
        assert_eq!([0.125, 2.0, f64::NAN].map(thousandths), [125, 2_000, 0]);
    }

    #[test]
    fn a_part_of_a_unit_is_ordered_as_a_whole_one() {
        assert_eq!(
            [1, 1_000, 1_001, i64::MAX].map(whole_units)[..3],
            [1_000, 1_000, 2_000]
        );
    }

    #[test]
    fn a_sum_is_the_same_in_any_order() {
        let mut parts = [i64::MAX, 5, i64::MAX, i64::MIN, -7];
        let one = total(parts.into_iter());
        parts.reverse();
        assert_eq!(total(parts.into_iter()), one);
        assert_eq!(total([i64::MIN, -1].into_iter()), i64::MIN);
    }
}
