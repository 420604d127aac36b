//! What a helper is given, and what its answer rests on.

use serde::de::value::{Error as Unknown, StrDeserializer};
use serde::de::{DeserializeOwned, IntoDeserializer};
use serde_json::{Map, Value};
use shared::trade::formulas::InvalidField;

use super::{CalcInput, NumberField};
use crate::pair_history::ASSUMED;

impl CalcInput<'_> {
    /// The number of a field.
    pub(super) fn of(&self, name: &str) -> f64 {
        let at = self.helper.numbers.iter().position(|asked| asked.name == name);
        at.and_then(|at| self.numbers.get(at))
            .copied()
            .unwrap_or(f64::NAN)
    }

    /// The word of the chosen option of a field.
    pub(super) fn word(&self, name: &str) -> &'static str {
        let at = self.helper.choices.iter().position(|choice| choice.name == name);
        let option = at.and_then(|at| Some((&self.helper.choices[at], *self.chosen.get(at)?)));
        option
            .and_then(|(choice, at)| choice.options.get(at))
            .copied()
            .unwrap_or_default()
    }

    /// The chosen option of a field as the formula's own type: the words of the options are those of that type.
    pub(super) fn choice<T: DeserializeOwned>(&self, name: &'static str) -> Result<T, InvalidField> {
        let word: StrDeserializer<'_, Unknown> = self.word(name).into_deserializer();
        T::deserialize(word).map_err(|_| InvalidField::new(name, words::calc::one_of_those_offered()))
    }

    /// A length with its unit.
    pub(super) fn say(&self, mm: f64) -> String {
        self.lengths.say(mm)
    }

    /// The numbers that are asked for with these choices: each with its value, and whether it was touched.
    pub(super) fn asked(&self) -> impl Iterator<Item = (&'static NumberField, f64, bool)> {
        let touched = self.touched.iter().copied().chain(std::iter::repeat(false));
        let all = self.helper.numbers.iter().zip(&self.numbers).zip(touched);
        all.filter(move |((field, _), _)| self.helper.asks(field, &self.chosen))
            .map(|((field, number), touched)| (field, *number, touched))
    }

    /// The numbers that have to be measured, and were not.
    pub(super) fn assumed(&self) -> impl Iterator<Item = &'static NumberField> {
        let all = self
            .asked()
            .filter(|(field, _, touched)| !field.holds && !touched);
        all.map(|(field, ..)| field)
    }

    /// What the answer rests on.
    pub(super) fn rests_on(&self) -> RestsOn {
        let mut measured = self.asked().filter(|(field, ..)| !field.holds).peekable();
        if measured.peek().is_none() || measured.any(|(_, _, touched)| touched) {
            RestsOn::Measured
        } else if self.from_before {
            RestsOn::EarlierVisit
        } else {
            RestsOn::Example
        }
    }

    /// The inputs as they are stored in the log; those that nobody touched are listed as assumed.
    pub fn kept(&self) -> Map<String, Value> {
        let words = self.helper.choices.iter();
        let words = words.map(|choice| (choice.name.to_owned(), self.word(choice.name).into()));
        let numbers = self.asked();
        let numbers = numbers.map(|(field, number, _)| (field.name.to_owned(), number.into()));
        let mut kept: Map<String, Value> = words.chain(numbers).collect();
        let assumed = self.asked().filter(|(_, _, touched)| !touched);
        let assumed: Vec<Value> = assumed.map(|(field, ..)| field.name.into()).collect();
        if !assumed.is_empty() {
            kept.insert(ASSUMED.to_owned(), assumed.into());
        }
        kept
    }
}

/// What an answer rests on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum RestsOn {
    /// On something measured, or on nothing that has to be measured.
    #[default]
    Measured,
    /// On what an earlier visit kept; nothing was measured since.
    EarlierVisit,
    /// On the initial values alone.
    Example,
}

impl RestsOn {
    /// What to say before an answer that rests on nothing measured; `None` for one that does.
    pub fn caveat(self) -> Option<&'static str> {
        match self {
            RestsOn::Measured => None,
            RestsOn::EarlierVisit => Some(words::calc::from_an_earlier_visit()),
            RestsOn::Example => Some(words::calc::an_example()),
        }
    }
}
