//! The trade's arithmetic at the bench: what each helper asks, and what it says to do.
//!
//! Pure: from what a person has typed to one sentence that answers, and a sketch. The sums themselves are
//! [`shared::trade::formulas`]; here they are asked in the words of the bench and answered in them.

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

/// What a number is a number of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// A length, kept in mm.
    Length,
    /// Anything counted or compared: the label says what.
    Plain,
}

/// A number that a helper asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NumberField {
    /// The field, with its unit: as it is kept in the log.
    pub name: &'static str,
    /// What the person is asked.
    pub label: &'static str,
    /// What it is a number of.
    pub of: Of,
    /// What stands there until somebody knows better.
    pub usual: f64,
    /// How much a tap on more or less changes it, in mm for a length.
    pub step: f64,
}

impl NumberField {
    const fn length(name: &'static str, label: &'static str, usual: f64, step: f64) -> Self {
        Self {
            name,
            label,
            of: Of::Length,
            usual,
            step,
        }
    }

    const fn plain(name: &'static str, label: &'static str, usual: f64, step: f64) -> Self {
        Self {
            name,
            label,
            of: Of::Plain,
            usual,
            step,
        }
    }
}

/// A choice that a helper asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ChoiceField {
    /// The field, as it is kept in the log.
    pub name: &'static str,
    /// What the person is asked.
    pub label: &'static str,
    /// The words it is kept by, and what each is called; the first is the usual one.
    pub options: &'static [(&'static str, &'static str)],
}

/// One helper of the bench.
#[derive(Clone, Copy)]
pub struct Helper {
    /// Its word in addresses and in the log.
    pub what: &'static str,
    /// What it is called.
    pub title: &'static str,
    /// Asked first.
    pub choices: &'static [ChoiceField],
    /// Asked next.
    pub numbers: &'static [NumberField],
    /// What is to be minded while doing what it says; empty if nothing.
    pub mind: &'static str,
    reckon: fn(&CalcInput<'_>) -> Result<CalcAnswer, InvalidField>,
}

/// What was typed and chosen, and what the shop has.
#[derive(Clone)]
pub struct CalcInput<'a> {
    /// The helper that asked.
    pub helper: &'a Helper,
    /// The numbers, in the order of [`Helper::numbers`].
    pub numbers: Vec<f64>,
    /// Which option of each choice, in the order of [`Helper::choices`].
    pub chosen: Vec<usize>,
    /// How lengths are said.
    pub lengths: Lengths,
    /// Lengths of nails on the shelf, mm.
    pub nail_lengths: Vec<f64>,
    /// Now, and how a moment is said.
    pub clock: WallClock,
}

impl CalcInput<'_> {
    /// A number by the name of its field.
    fn of(&self, name: &str) -> f64 {
        let at = self.helper.numbers.iter().position(|asked| asked.name == name);
        at.and_then(|at| self.numbers.get(at))
            .copied()
            .unwrap_or(f64::NAN)
    }

    /// The word chosen for a field.
    fn word(&self, name: &str) -> &'static str {
        let at = self.helper.choices.iter().position(|choice| choice.name == name);
        let option = at.and_then(|at| Some((&self.helper.choices[at], *self.chosen.get(at)?)));
        option
            .and_then(|(choice, at)| choice.options.get(at))
            .map_or("", |(word, _)| *word)
    }

    /// The choice of a field, as the sums take it: the words on the chips are those of their fields.
    fn choice<T: DeserializeOwned>(&self, name: &'static str) -> Result<T, InvalidField> {
        let word: StrDeserializer<'_, Unknown> = self.word(name).into_deserializer();
        T::deserialize(word).map_err(|_| InvalidField::new(name, "one of those offered"))
    }

    /// A length in words.
    fn say(&self, mm: f64) -> String {
        self.lengths.say(mm)
    }

    /// As the log keeps it.
    pub fn kept(&self) -> Map<String, Value> {
        let words = self.helper.choices.iter();
        let words = words.map(|choice| (choice.name.to_owned(), self.word(choice.name).into()));
        let numbers = self.helper.numbers.iter().zip(&self.numbers);
        let numbers = numbers.map(|(asked, number)| (asked.name.to_owned(), (*number).into()));
        words.chain(numbers).collect()
    }
}

/// What a helper answers.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CalcAnswer {
    /// What to do, in one sentence.
    pub say: String,
    /// What else there is to know, a sentence each.
    pub more: Vec<String>,
    /// What it looks like, if that helps.
    pub sketch: Option<Sketch>,
    /// How long to wait, in minutes, if it is a wait.
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
    /// A heel from below: x positive to the outside of the foot, y from the back to the breast.
    Heel {
        /// Its outline.
        outline: Vec<Point>,
        /// Where nails stand.
        nails: Vec<Point>,
        /// Both ends of a line to be cut along.
        line: Option<[Point; 2]>,
    },
    /// A shoe from the side, as it stands and as it will.
    Side {
        /// Heights of heel seat and tread, now.
        before: [f64; 2],
        /// The same, afterwards.
        after: [f64; 2],
        /// The level distance between them.
        run: f64,
    },
}

/// Every helper, in the order of the work.
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

/// What helps with an operation: the words of helpers, [`DYE`], [`COMPARE`] and [`PHOTO`], with what they are called.
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

/// What a helper is called, by its word.
pub fn called(what: &str) -> &'static str {
    match (helper(what), what) {
        (Some(helper), _) => helper.title,
        (None, PHOTO) => "On a photograph",
        (None, COMPARE) => "Two colours",
        (None, _) => "Colour recipe",
    }
}

/// Whether a sole is cut for it.
fn is_sole(known: &Operation) -> bool {
    known.code.starts_with("resole")
        || matches!(known.code, "half_sole" | "sole_guard" | "midsole_replacement")
}

impl Helper {
    /// What to do, or which of the fields cannot be so, in words for the person.
    ///
    /// # Errors
    /// The label of the field, and what is allowed there.
    pub fn answer(&self, given: &CalcInput<'_>) -> Result<CalcAnswer, String> {
        if let Some(at) = given.numbers.iter().position(|number| number.is_nan()) {
            return Err([self.numbers[at].label, ": a number."].concat());
        }
        (self.reckon)(given).map_err(|refused| self.in_words(&refused))
    }

    /// Where somebody begins: what was kept last, else what is usual.
    pub fn begin(&self, kept: &Map<String, Value>) -> (Vec<f64>, Vec<usize>) {
        let number = |asked: &NumberField| {
            kept.get(asked.name)
                .and_then(Value::as_f64)
                .unwrap_or(asked.usual)
        };
        let option = |choice: &ChoiceField| {
            let word = kept.get(choice.name).and_then(Value::as_str);
            let at = word.and_then(|word| choice.options.iter().position(|(known, _)| *known == word));
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
        let label = asked.map_or(field.as_str(), |asked| asked.label);
        [label, ": ", &refused.allowed, "."].concat()
    }
}

#[cfg(test)]
mod tests;
