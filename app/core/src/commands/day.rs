//! Calculations with days, without a clock.

/// The day so many months after a day `YYYY-MM-DD`, or the last day of that month if it is shorter. `None` for a text
/// that is not a day.
pub(super) fn months_later(day: &str, months: u32) -> Option<String> {
    let mut parts = day.splitn(3, '-').map(|part| part.parse::<u32>().ok());
    let (year, month, date) = (parts.next()??, parts.next()??, parts.next()??);
    if !(1..=12).contains(&month) || !(1..=31).contains(&date) {
        return None;
    }
    let all = year * 12 + (month - 1) + months;
    let (year, month) = (all / 12, all % 12 + 1);
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let last = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    };
    Some(format!("{year:04}-{month:02}-{:02}", date.min(last)))
}

#[cfg(test)]
mod tests {
    use super::months_later;

    #[test]
    fn months_end_where_they_end() {
        let cases = [
            ("2026-03-02", 3, "2026-06-02"),
            ("2026-11-30", 3, "2027-02-28"),
            ("2027-11-30", 3, "2028-02-29"),
            ("2026-08-31", 3, "2026-11-30"),
            ("2026-01-31", 12, "2027-01-31"),
            ("2026-12-01", 1, "2027-01-01"),
        ];
        for (day, months, later) in cases {
            assert_eq!(
                months_later(day, months).as_deref(),
                Some(later),
                "{day} + {months}"
            );
        }
        for odd in ["", "soon", "2026-13-01", "2026-01", "2026-02-40"] {
            assert_eq!(months_later(odd, 3), None, "{odd}");
        }
    }
}
