//! How much text a card has, from which its type size on paper follows: as large as fits on one sheet.

use shared::log::body::Section;

/// How many pieces of advice have room on paper.
pub(super) const ADVICE_ON_PAPER: usize = 2;

/// Classes of card by the amount of text on its sheet; each has its type size in the style sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Amount {
    /// Little text: large type.
    Short,
    /// The usual amount: smaller type and pictures.
    Usual,
    /// A lot of text: small type.
    Full,
    /// More text than that can hold: the smallest type, and a small picture.
    Fullest,
}

/// Up to this many characters the type is large. Found by trial on A5 paper with a wide typeface
/// (`e2e/chromium/paper.spec.ts`).
const SHORT: usize = 700;
/// From this many characters on it is [`Amount::Full`].
const FULL: usize = 1300;
/// From this many characters on it is [`Amount::Fullest`].
const FULLEST: usize = 1900;
/// Characters added for each line, because the rest of its last printed line stays empty.
const LINE: usize = 40;

impl Amount {
    /// Counts the characters of a section that are printed.
    pub(super) fn of(section: &Section) -> Self {
        let lists = [&section.done, &section.found, &section.gifts, &section.notes];
        let advice = section.advice.iter().take(ADVICE_ON_PAPER);
        let lines = lists.into_iter().flatten().chain(advice);
        let said: usize = lines
            .chain([&section.terms, &section.shop])
            .map(|line| length(line))
            .sum();
        match said {
            ..=SHORT => Self::Short,
            FULLEST.. => Self::Fullest,
            FULL.. => Self::Full,
            _ => Self::Usual,
        }
    }

    /// Its CSS classes.
    pub(super) fn class(self) -> &'static str {
        match self {
            Self::Short => "short",
            Self::Usual => "usual",
            Self::Full => "full",
            Self::Fullest => "full fullest",
        }
    }
}

fn length(line: &str) -> usize {
    if line.is_empty() {
        0
    } else {
        LINE + line.chars().count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_more_is_said_the_smaller_the_type() {
        let of = |count: usize| {
            Amount::of(&Section {
                done: vec!["New soles, stitched to the welt.".into(); count],
                advice: vec!["Put shoe trees in.".into(); 3],
                ..Section::default()
            })
        };
        assert_eq!(of(2), Amount::Short);
        assert_eq!(of(8), Amount::Short);
        assert_eq!(of(12), Amount::Usual);
        assert_eq!(of(18), Amount::Full);
        assert_eq!(of(40), Amount::Fullest);
    }

    #[test]
    fn advice_that_has_no_room_on_paper_is_not_counted() {
        let of = |count: usize| {
            Amount::of(&Section {
                advice: vec!["Put shoe trees in after wear.".into(); count],
                ..Section::default()
            })
        };
        assert_eq!((of(2), of(40)), (Amount::Short, Amount::Short));
    }
}
