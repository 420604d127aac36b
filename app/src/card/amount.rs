//! How much a card says, so that on paper its type is as large as one sheet allows.

use shared::log::body::Section;

/// How large the type can be on one sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Amount {
    /// Little is said: large type.
    Short,
    /// As much as usual.
    Usual,
    /// A lot: small type, and earlier jobs step back.
    Full,
    /// More than a card should say: pictures step back too.
    Fullest,
}

/// Up to so many characters, large type; as tried out on A5 with a wide face (`e2e/chromium/paper.spec.ts`).
const SHORT: usize = 900;
/// From so many on, small type.
const FULL: usize = 1500;
/// From so many on, small pictures as well.
const FULLEST: usize = 2450;
/// The sections that a sheet has room for.
const ON_PAPER: usize = 4;
/// What a line costs besides its own characters: its rest stays empty.
const LINE: usize = 40;

impl Amount {
    /// Reckons what stands on paper: the newest section in full, of earlier ones what was done.
    pub(super) fn of<'a>(sections: impl Iterator<Item = &'a Section>) -> Self {
        let mut said = 0;
        for (at, section) in sections.take(ON_PAPER).enumerate() {
            let lists: &[&[String]] = if at == 0 {
                said += length(&section.terms) + length(&section.shop);
                &[&section.done, &section.found, &section.gifts, &section.advice]
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

    /// Its name in the style sheet.
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
}
