//! Days as people read them.

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// `2026-03-02` as `2 March 2026`. Anything else stays as it was written.
pub fn in_words(day: &str) -> String {
    let mut parts = day.split('-');
    let words = (|| {
        let year = parts.next().filter(|year| year.len() == 4)?;
        let month: usize = parts.next()?.parse().ok()?;
        let date: u8 = parts
            .next()?
            .parse()
            .ok()
            .filter(|date| (1..=31).contains(date))?;
        let month = MONTHS.get(month.checked_sub(1)?)?;
        parts.next().is_none().then(|| format!("{date} {month} {year}"))
    })();
    words.unwrap_or_else(|| day.to_owned())
}

#[cfg(test)]
mod tests {
    use super::in_words;

    #[test]
    fn days_read_as_words_and_anything_else_stays() {
        assert_eq!(in_words("2026-03-02"), "2 March 2026");
        assert_eq!(in_words("2026-12-31"), "31 December 2026");
        for odd in [
            "",
            "soon",
            "2026-13-01",
            "2026-00-01",
            "2026-03-40",
            "2026-03-02-1",
        ] {
            assert_eq!(in_words(odd), odd);
        }
    }
}
