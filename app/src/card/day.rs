//! Days as people read them.

use shared::trade::formulas::day::Day;

/// `2026-03-02` as `2 March 2026`. A text that is not such a day is returned unchanged.
pub fn in_words(day: &str) -> String {
    Day::parse(day).map_or_else(|| day.to_owned(), Day::words)
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
