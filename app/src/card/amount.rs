//! How much text a card has, from which its type size on paper follows: as large as fits on one sheet.

use shared::log::body::Section;

/// Classes of card by the amount of text on them; each has its type size in the style sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Amount {
    /// Little text: large type.
    Short,
    /// The usual amount: normal type.
    Usual,
    /// A lot of text: small type, smaller pictures, and at most one earlier job.
    Full,
    /// More text than that can hold: still smaller type and pictures, and no earlier job.
    Fullest,
}

/// Up to this many characters the type is large. Found by trial on A5 paper with a wide typeface
/// (`e2e/chromium/paper.spec.ts`).
const SHORT: usize = 900;
/// From this many characters on it is [`Amount::Full`].
const FULL: usize = 1500;
/// From this many characters on it is [`Amount::Fullest`].
const FULLEST: usize = 2450;
/// How many sections, newest first, are printed and therefore counted.
const ON_PAPER: usize = 4;
/// Characters added for each line, because the rest of its last printed line stays empty.
const LINE: usize = 40;

impl Amount {
    /// Counts the characters that are printed: all texts of the newest section; of earlier ones only what was done,
    /// found and given.
    pub(super) fn of<'a>(sections: impl Iterator<Item = &'a Section>) -> Self {
        let mut said = 0;
        for (at, section) in sections.take(ON_PAPER).enumerate() {
            let lists: &[&[String]] = if at == 0 {
                said += length(&section.terms) + length(&section.shop);
                &[
                    &section.done,
                    &section.found,
                    &section.gifts,
                    &section.notes,
                    &section.advice,
                ]
            } else {
                &[&section.done, &section.found, &section.gifts]
            };
            let lines = lists.iter().copied().flatten();
            said += lines.map(|line| length(line)).sum::<usize>();
        }
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
        let of = |lines: usize, earlier: usize| {
            let section = |count| Section {
                done: vec!["New soles, stitched to the welt.".into(); count],
                advice: vec!["Put shoe trees in.".into(); 3],
                ..Section::default()
            };
            let mut all = vec![section(lines)];
            all.extend(std::iter::repeat_n(section(2), earlier));
            Amount::of(all.iter())
        };
        assert_eq!(of(2, 0), Amount::Short);
        assert_eq!(of(12, 0), Amount::Usual);
        assert_eq!(of(8, 0), Amount::Short);
        assert_eq!(of(8, 3), Amount::Usual, "earlier work is on the sheet");
        assert_eq!(of(8, 30), Amount::Usual, "work long past is not");
        assert_eq!(of(20, 0), Amount::Full);
        assert_eq!(of(40, 0), Amount::Fullest);
    }

    #[test]
    fn remarks_are_counted_with_the_newest_work_only() {
        let section = Section {
            notes: vec!["The left toe is worn more than the right one.".into(); 20],
            ..Section::default()
        };
        assert_eq!(Amount::of(std::iter::once(&section)), Amount::Full);
        let newest = Section::default();
        assert_eq!(Amount::of([&newest, &section].into_iter()), Amount::Short);
    }
}
