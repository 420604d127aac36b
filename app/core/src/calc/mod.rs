//! The calculations at the bench: the inputs that each helper asks for, and the answer in words.
//!
//! Pure: from what a person has typed to one sentence of instruction and a sketch. The formulas themselves are in
//! [`shared::trade::formulas`].

mod clock;
mod colour;
mod compare;
mod heel;
mod leather;
mod lengths;
mod nails;
mod photo;
mod seam;
mod sole;
mod wear;

use serde::de::value::{Error as Unknown, StrDeserializer};
use serde::de::{DeserializeOwned, IntoDeserializer};
use serde_json::{Map, Value};
use shared::trade::formulas::{InvalidField, Point};
use shared::trade::operations::{Operation, Station, operation};

pub use clock::WallClock;
pub use colour::{DYE, MixturePart, recipe};
pub use compare::{COMPARE, USUAL_WHITE, compare, compared};
pub use lengths::{Lengths, number};
pub use nails::USUAL_NAILS;
pub use photo::{BESIDE, CORNERS, PHOTO, ReferenceObject, measure};

/// The quantity of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// A length, stored in mm.
    Length,
    /// Any other number: the label says what it is.
    Plain,
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
}

impl NumberField {
    const fn length(name: &'static str, usual: f64, step: f64) -> Self {
        Self {
            name,
            of: Of::Length,
            usual,
            step,
        }
    }

    const fn plain(name: &'static str, usual: f64, step: f64) -> Self {
        Self {
            name,
            of: Of::Plain,
            usual,
            step,
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

/// A helper: one calculation as the bench offers it.
#[derive(Clone, Copy)]
pub struct Helper {
    /// Its word in addresses and in the log.
    pub what: &'static str,
    /// The choices, which are asked for first.
    pub choices: &'static [ChoiceField],
    /// The numbers, which are asked for next.
    pub numbers: &'static [NumberField],
    calculate: fn(&CalcInput<'_>) -> Result<CalcAnswer, InvalidField>,
}

/// The inputs of a person, and the settings they depend on.
#[derive(Clone)]
pub struct CalcInput<'a> {
    /// The helper they are for.
    pub helper: &'a Helper,
    /// The numbers, in the order of [`Helper::numbers`].
    pub numbers: Vec<f64>,
    /// The index of the chosen option of each choice, in the order of [`Helper::choices`].
    pub chosen: Vec<usize>,
    /// The unit in which lengths are shown.
    pub lengths: Lengths,
    /// The lengths of the nails in stock, in mm.
    pub nail_lengths: Vec<f64>,
    /// The current time.
    pub clock: WallClock,
}

impl CalcInput<'_> {
    /// The number of a field.
    fn of(&self, name: &str) -> f64 {
        let at = self.helper.numbers.iter().position(|asked| asked.name == name);
        at.and_then(|at| self.numbers.get(at))
            .copied()
            .unwrap_or(f64::NAN)
    }

    /// The word of the chosen option of a field.
    fn word(&self, name: &str) -> &'static str {
        let at = self.helper.choices.iter().position(|choice| choice.name == name);
        let option = at.and_then(|at| Some((&self.helper.choices[at], *self.chosen.get(at)?)));
        option
            .and_then(|(choice, at)| choice.options.get(at))
            .copied()
            .unwrap_or_default()
    }

    /// The chosen option of a field as the formula's own type: the words of the options are those of that type.
    fn choice<T: DeserializeOwned>(&self, name: &'static str) -> Result<T, InvalidField> {
        let word: StrDeserializer<'_, Unknown> = self.word(name).into_deserializer();
        T::deserialize(word).map_err(|_| InvalidField::new(name, words::calc::one_of_those_offered()))
    }

    /// A length with its unit.
    fn say(&self, mm: f64) -> String {
        self.lengths.say(mm)
    }

    /// The inputs as they are stored in the log.
    pub fn kept(&self) -> Map<String, Value> {
        let words = self.helper.choices.iter();
        let words = words.map(|choice| (choice.name.to_owned(), self.word(choice.name).into()));
        let numbers = self.helper.numbers.iter().zip(&self.numbers);
        let numbers = numbers.map(|(asked, number)| (asked.name.to_owned(), (*number).into()));
        words.chain(numbers).collect()
    }
}

/// The answer of a helper.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CalcAnswer {
    /// The instruction, in one sentence.
    pub say: String,
    /// Further information, one sentence each.
    pub more: Vec<String>,
    /// A sketch, if it helps.
    pub sketch: Option<Sketch>,
    /// How long to wait, in minutes, if the answer is a wait.
    pub wait: Option<u32>,
}

impl CalcAnswer {
    fn new(say: String) -> Self {
        Self {
            say,
            ..Self::default()
        }
    }
}

/// A drawing to scale, in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum Sketch {
    /// A heel seen from below: x increases to the outside of the foot, y from the back to the breast.
    Heel {
        /// Its outline.
        outline: Vec<Point>,
        /// The positions of nails.
        nails: Vec<Point>,
        /// Both ends of a line to cut along.
        line: Option<[Point; 2]>,
    },
    /// A shoe seen from the side, before and after a change.
    Side {
        /// The heights of the heel seat and the tread, before.
        before: [f64; 2],
        /// The same heights, after.
        after: [f64; 2],
        /// The horizontal distance between them.
        run: f64,
    },
}

/// All helpers, in the order of the work.
pub static HELPERS: [Helper; 11] = [
    sole::SOLE,
    sole::PITCH,
    leather::LEATHER,
    seam::THREAD,
    nails::NAILS,
    heel::LIFTS,
    heel::AS_IT_WAS,
    heel::LEVEL,
    heel::CORNER,
    wear::WEAR,
    clock::READY,
];

/// The helper with this word.
pub fn helper(what: &str) -> Option<&'static Helper> {
    HELPERS.iter().find(|helper| helper.what == what)
}

/// The helpers for an operation, [`DYE`], [`COMPARE`] and [`PHOTO`] included: the word and the title of each.
pub fn helpers_for(code: &str) -> Vec<(&'static str, &'static str)> {
    let Some(known) = operation(code) else {
        return Vec::new();
    };
    let mut words: Vec<&str> = match known.station {
        Station::BuildHeel => vec!["nails", "lifts", "heel", "level", "corner", "wear"],
        Station::Stitch => vec!["thread"],
        Station::Finish | Station::Ink => vec![DYE, COMPARE],
        _ => Vec::new(),
    };
    if is_sole(known) {
        words.extend(["sole", "pitch", "wear"]);
    }
    if is_sole(known) || matches!(known.code, "sock_replacement" | "heel_grip" | "strap_replacement") {
        words.push("leather");
    }
    if known.waits.iter().any(|wait| wait.minutes.low > 0) {
        words.push("ready");
    }
    words.push(PHOTO);
    words.into_iter().map(|what| (what, called(what))).collect()
}

/// The title of a helper, by its word.
pub fn called(what: &str) -> &'static str {
    match words::calc::title(what) {
        "" => words::calc::title(DYE),
        title => title,
    }
}

/// Whether the operation needs a sole to be cut.
fn is_sole(known: &Operation) -> bool {
    known.code.starts_with("resole")
        || matches!(known.code, "half_sole" | "sole_guard" | "midsole_replacement")
}

impl Helper {
    /// Its title on the screen.
    pub fn title(&self) -> &'static str {
        words::calc::title(self.what)
    }

    /// A warning to heed during the work; empty if there is none.
    pub fn mind(&self) -> &'static str {
        words::calc::mind(self.what)
    }

    /// The answer, or the input that is not allowed, in words for the person.
    ///
    /// # Errors
    /// The label of the field, and what is allowed in it.
    pub fn answer(&self, given: &CalcInput<'_>) -> Result<CalcAnswer, String> {
        if let Some(at) = given.numbers.iter().position(|number| number.is_nan()) {
            return Err(words::calc::a_number_is_needed(self.numbers[at].label(self.what)));
        }
        (self.calculate)(given).map_err(|refused| self.in_words(&refused))
    }

    /// The initial inputs: those stored last, or else the usual ones.
    pub fn begin(&self, kept: &Map<String, Value>) -> (Vec<f64>, Vec<usize>) {
        let number = |asked: &NumberField| {
            kept.get(asked.name)
                .and_then(Value::as_f64)
                .unwrap_or(asked.usual)
        };
        let option = |choice: &ChoiceField| {
            let word = kept.get(choice.name).and_then(Value::as_str);
            let at = word.and_then(|word| choice.options.iter().position(|known| *known == word));
            at.unwrap_or(0)
        };
        (
            self.numbers.iter().map(number).collect(),
            self.choices.iter().map(option).collect(),
        )
    }

    fn in_words(&self, refused: &InvalidField) -> String {
        let field = refused.field.replace("layers_mm.", "").replace('.', "_");
        let asked = self
            .numbers
            .iter()
            .find(|asked| asked.name.trim_end_matches("_mm") == field.trim_end_matches("_mm"));
        let label = asked.map_or(field.as_str(), |asked| asked.label(self.what));
        words::calc::refused(label, &refused.allowed)
    }
}

#[cfg(test)]
mod tests;
