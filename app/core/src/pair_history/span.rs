//! How long something lasted, in words.

use shared::log::MadeAt;
use shared::price::records::At;
use shared::trade::formulas::day::Day;

/// The day of a moment in the shop's time; `None` before 1990 and from 2100 on, which only a wrong clock shows.
pub fn day_of(at: MadeAt) -> Option<Day> {
    At::from(at).day()
}

/// The time from one day to another: `less than a day`, `12 days`, `1 year 2 months`. It is 0 if the second day is
/// earlier.
pub fn span(from: Day, to: Day) -> String {
    let days = to.count() - from.count();
    match whole_months(from, to) {
        _ if days < 1 => words::time::less_than_a_day().to_owned(),
        months if months < 1 => words::time::days(days),
        all => months(all),
    }
}

/// Months in words, with full years: `8 months`, `1 year 6 months`, `4 years`.
pub fn months(all: i64) -> String {
    match (all / 12, all % 12) {
        (0, rest) => words::time::months(rest),
        (years, 0) => words::time::years(years),
        (years, rest) => {
            words::time::years_and_months(&words::time::years(years), &words::time::months(rest))
        }
    }
}

/// The number of complete calendar months. A month that begins on the 31st ends on the last day of a shorter month.
fn whole_months(from: Day, to: Day) -> i64 {
    let ((from_year, from_month, from_day), (year, month, day)) = (from.date(), to.date());
    let ends = Day::counted(to.count() + 1).is_none_or(|next| next.date().1 != month);
    let over = day >= from_day || ends;
    (year - from_year) * 12 + month - from_month - i64::from(!over)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Counted on a calendar.
    #[test]
    fn spans_in_words() {
        for (from, to, words) in [
            ("2026-03-02", "2026-03-02", "less than a day"),
            ("2026-03-02", "2026-03-01", "less than a day"),
            ("2026-03-02", "2026-03-03", "1 day"),
            ("2026-03-02", "2026-04-01", "30 days"),
            ("2026-03-02", "2026-04-02", "1 month"),
            ("2024-01-31", "2024-02-28", "28 days"),
            ("2024-01-31", "2024-02-29", "1 month"),
            ("2024-02-29", "2025-02-28", "1 year"),
            ("2025-01-15", "2026-03-14", "1 year 1 month"),
            ("2025-01-15", "2026-03-15", "1 year 2 months"),
            ("2020-06-01", "2026-06-01", "6 years"),
        ] {
            let day = |text| Day::parse(text).unwrap();
            assert_eq!(span(day(from), day(to)), words, "{from} {to}");
        }
    }

    proptest! {
        #[test]
        fn a_day_more_is_never_a_month_less(from in 7_305_i64..47_000, days in 0_i64..5_000) {
            let day = |count| Day::counted(count).unwrap();
            let months = |days| whole_months(day(from), day(from + days));
            prop_assert!(months(days + 1) >= months(days));
            prop_assert!(months(days) * 28 <= days && days < (months(days) + 1) * 31 + 1);
        }
    }
}
