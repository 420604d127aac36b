//! Lengths as people type and read them: millimetres or inches, with a comma or a point.

use shared::trade::formulas::MM_PER_INCH;

use super::Of;

/// The unit of length that a shop uses.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Lengths {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches.
    Inch,
}

impl Lengths {
    /// Its word in the settings of the shop.
    pub fn word(self) -> &'static str {
        match self {
            Lengths::Mm => "mm",
            Lengths::Inch => "in",
        }
    }

    /// The unit with this word; millimetres for any other word.
    pub fn of(word: &str) -> Self {
        if word == "in" { Lengths::Inch } else { Lengths::Mm }
    }

    /// The length in a typed text, in mm; `None` if it is not a number.
    pub fn read(self, text: &str) -> Option<f64> {
        let number = number(text)?;
        Some(match self {
            Lengths::Mm => number,
            Lengths::Inch => number * MM_PER_INCH,
        })
    }

    /// A length as it is typed: to a tenth of a millimetre, or a hundredth of an inch.
    pub fn typed(self, mm: f64) -> String {
        match self {
            Lengths::Mm => rounded(mm, 1),
            Lengths::Inch => rounded(mm / MM_PER_INCH, 2),
        }
    }

    /// The number in a text field, in mm if it is a length.
    pub fn read_as(self, of: Of, text: &str) -> Option<f64> {
        match of {
            Of::Length => self.read(text),
            Of::Plain => number(text),
        }
    }

    /// A number as the text of its field.
    pub fn field(self, of: Of, number: f64) -> String {
        match of {
            Of::Length => self.typed(number),
            Of::Plain => rounded(number, 2),
        }
    }

    /// A length with its unit, ten times as finely as it is typed.
    pub fn say_finely(self, mm: f64) -> String {
        let number = match self {
            Lengths::Mm => rounded(mm, 2),
            Lengths::Inch => rounded(mm / MM_PER_INCH, 3),
        };
        [number.as_str(), self.word()].join(" ")
    }

    /// A length with its unit.
    pub fn say(self, mm: f64) -> String {
        let mut words = self.typed(mm);
        words.push(' ');
        words.push_str(self.word());
        words
    }
}

/// Reads a number with a comma or a point; `None` for any other text.
pub fn number(text: &str) -> Option<f64> {
    let number: f64 = text.trim().replace(',', ".").parse().ok()?;
    number.is_finite().then_some(number)
}

/// A number rounded to so many decimals, without trailing zeros.
pub(super) fn rounded(number: f64, places: usize) -> String {
    let text = format!("{number:.places$}");
    let text = match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.'),
        false => &text,
    };
    // A length that rounds to 0 has no sign.
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_comma_is_a_point_and_nonsense_is_nothing() {
        assert_eq!(number(" 3,5 "), Some(3.5));
        assert_eq!(number("3.5"), Some(3.5));
        for odd in ["", "3,5,1", "three", "NaN", "inf", "1e999"] {
            assert_eq!(number(odd), None, "{odd}");
        }
    }

    #[test]
    fn lengths_are_said_as_the_shop_wants_them() {
        assert_eq!(Lengths::Mm.say(16.0), "16 mm");
        assert_eq!(Lengths::Mm.say(15.96), "16 mm");
        assert_eq!(Lengths::Mm.say(-0.01), "0 mm");
        assert_eq!(Lengths::Mm.say_finely(5.033), "5.03 mm");
        // An inch is 25.4 mm (NIST SP 811, appendix B).
        assert_eq!(Lengths::Inch.say(25.4), "1 in");
        assert_eq!(Lengths::Inch.read("0,5"), Some(12.7));
        assert_eq!(Lengths::of(Lengths::Inch.word()), Lengths::Inch);
        assert_eq!(Lengths::of(""), Lengths::Mm);
    }
}
