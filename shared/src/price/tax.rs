//! The tax included in a total, or added to it.

use super::currency::Currency;
use super::minor::Minor;

/// A total with its tax.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Due {
    /// The total that the customer pays, in minor units.
    pub minor: Minor,
    /// The tax included in it, in minor units; `None` where the shop shows no tax.
    pub tax: Option<Minor>,
}

/// The total of a sum of prices under a rate of tax, as in [`TAX`](crate::log::body::field::TAX): in thousandths,
/// positive if the prices include it, negative if it is added to them; `None` or 0 for no tax.
///
/// Tax is calculated once, on the whole sum, and rounded to the nearest minor unit, halves up.
pub fn due(sum: Minor, rate: Option<i64>) -> Due {
    match rate.unwrap_or(0) {
        0 => Due {
            minor: sum,
            tax: None,
        },
        inside if inside > 0 => Due {
            minor: sum,
            tax: Some(share(sum, inside, 1000 + inside)),
        },
        on_top => {
            let tax = share(sum, on_top.saturating_neg(), 1000);
            Due {
                minor: sum + tax,
                tax: Some(tax),
            }
        }
    }
}

/// `of · part / whole`, to the nearest minor unit, halves up.
fn share(of: Minor, part: i64, whole: i64) -> Minor {
    let (of, part, whole) = (i128::from(of.0), i128::from(part), i128::from(whole));
    Minor(i64::try_from((2 * of * part + whole).div_euclid(2 * whole)).unwrap_or(i64::MAX))
}

/// Reads a rate as people type it, in thousandths: `19`, `8.1`, `8,1`. `None` if it is not a rate below 100 % with at
/// most one decimal.
pub fn parse_rate(text: &str) -> Option<i64> {
    // An amount with two decimals is a rate in hundredths of a per cent.
    let Minor(hundredths) = Currency::default().parse(text)?;
    (hundredths % 10 == 0 && hundredths < 10_000).then_some(hundredths / 10)
}

/// Writes a rate in per cent, without the sign: `19`, `8.1`.
pub fn format_rate(rate: i64) -> String {
    let all = rate.unsigned_abs();
    match all % 10 {
        0 => (all / 10).to_string(),
        tenth => format!("{}.{tenth}", all / 10),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Calculated by hand: 119.00 with 19 % in it is 100.00 and 19.00; of 65.00, 65 · 19 / 119 = 10.378…; 8.1 % on 65.00 is
    /// 5.265, which is rounded up; 5 % on 0.10 is half a cent, which is rounded up; 10 % in 0.05 is 0.4545… cents.
    #[test]
    fn as_reckoned_by_hand() {
        let cases = [
            (11_900, Some(190), 11_900, Some(1_900)),
            (6_500, Some(190), 6_500, Some(1_038)),
            (6_500, Some(-81), 7_027, Some(527)),
            (10, Some(-50), 11, Some(1)),
            (5, Some(100), 5, Some(0)),
            (0, Some(190), 0, Some(0)),
            (6_500, None, 6_500, None),
            (6_500, Some(0), 6_500, None),
        ];
        for (sum, rate, minor, tax) in cases {
            let (minor, tax) = (Minor(minor), tax.map(Minor));
            assert_eq!(due(Minor(sum), rate), Due { minor, tax }, "{sum} at {rate:?}");
        }
    }

    #[test]
    fn rates_as_people_type_them() {
        let cases = [
            ("19", Some(190)),
            ("8.1", Some(81)),
            ("8,1 ", Some(81)),
            ("0", Some(0)),
        ];
        for (text, rate) in cases {
            assert_eq!(parse_rate(text), rate, "{text}");
        }
        for text in ["", "100", "8.15", "-3", "all"] {
            assert_eq!(parse_rate(text), None, "{text}");
        }
        assert_eq!(
            (format_rate(190), format_rate(-81)),
            ("19".to_owned(), "8.1".to_owned())
        );
    }

    proptest! {
        /// The included tax of a sum equals the tax that would be added to the rest, apart from rounding.
        #[test]
        fn inside_and_on_top_agree(sum in 0i64..1_000_000_000, rate in 1i64..500) {
            let sum = Minor(sum);
            let inside = due(sum, Some(rate));
            let rest = sum - inside.tax.unwrap_or_default();
            prop_assert!((due(rest, Some(-rate)).minor - sum).0.abs() <= 1);
        }
    }
}
