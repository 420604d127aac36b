//! What a helper asks for: numbers and choices.

/// The quantity of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// A length, stored in mm.
    Length,
    /// Any other number: the label says what it is.
    Plain,
}

/// When a number is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FieldShown {
    /// At once.
    AtOnce,
    /// Behind "More": the usual value nearly always does.
    Behind,
    /// Only while this choice has this option.
    With(&'static str, &'static str),
}

/// A number that is an input of a helper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NumberField {
    /// The name of the field in the log, with its unit.
    pub name: &'static str,
    /// Its quantity.
    pub of: Of,
    /// The initial value.
    pub usual: f64,
    /// The change by one tap on more or less, in mm for a length.
    pub step: f64,
    /// When it is asked for.
    pub shown: FieldShown,
    /// Whether the initial value holds until another is known, as a share of waste does. It is an example otherwise:
    /// the number has to be measured on the pair.
    pub holds: bool,
}

impl NumberField {
    pub(super) const fn length(name: &'static str, usual: f64, step: f64) -> Self {
        Self {
            name,
            of: Of::Length,
            usual,
            step,
            shown: FieldShown::AtOnce,
            holds: false,
        }
    }

    pub(super) const fn plain(name: &'static str, usual: f64, step: f64) -> Self {
        Self {
            of: Of::Plain,
            ..Self::length(name, usual, step)
        }
    }

    /// The same number, whose initial value holds until another is known.
    pub(super) const fn holding(self) -> Self {
        Self { holds: true, ..self }
    }

    /// The same number behind "More"; its initial value holds.
    pub(super) const fn behind(self) -> Self {
        Self {
            shown: FieldShown::Behind,
            ..self.holding()
        }
    }

    /// The same number, asked for only while this choice has this option.
    pub(super) const fn with(self, choice: &'static str, option: &'static str) -> Self {
        Self {
            shown: FieldShown::With(choice, option),
            ..self
        }
    }

    /// The question to the person, in the helper with this word.
    pub fn label(&self, what: &str) -> &'static str {
        words::calc::number_label(what, self.name)
    }
}

/// A choice that is an input of a helper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ChoiceField {
    /// The name of the field in the log.
    pub name: &'static str,
    /// The options, by their words in the log; the first is the usual one.
    pub options: &'static [&'static str],
}

impl ChoiceField {
    /// The question to the person, in the helper with this word.
    pub fn label(&self, what: &str) -> &'static str {
        words::calc::choice_label(what, self.name)
    }

    /// The name of an option on the screen, in the helper with this word.
    pub fn option_label(&self, what: &str, option: &str) -> &'static str {
        words::calc::option_label(what, self.name, option)
    }
}
