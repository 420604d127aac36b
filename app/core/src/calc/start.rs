//! What a helper begins with: what was stored last, or else what is usual for such a pair.

use serde_json::{Map, Value};
use shared::log::body::Side;
use shared::trade::{Component, Goods};

use super::{CalcPair, ChoiceField, Helper, NumberField};
use crate::pair_history::ASSUMED;

/// What a helper begins with.
#[derive(Debug, Clone, PartialEq)]
pub struct CalcStart {
    /// The numbers, in the order of [`Helper::numbers`].
    pub numbers: Vec<f64>,
    /// Whether each of them is known to be measured.
    pub touched: Vec<bool>,
    /// The index of the chosen option of each choice, in the order of [`Helper::choices`].
    pub chosen: Vec<usize>,
    /// Whether they are those of an earlier visit.
    pub from_before: bool,
}

impl Helper {
    /// The initial inputs: those stored last, or else the usual ones for such a pair.
    ///
    /// What was stored `here`, on the same job, counts as measured, unless it is listed as assumed. What was stored on
    /// an earlier visit may have changed since.
    pub fn begin(&self, kept: &Map<String, Value>, here: bool, pair: &CalcPair) -> CalcStart {
        let assumed = kept.get(ASSUMED).and_then(Value::as_array);
        let known = |name: &str| kept.get(name).and_then(Value::as_f64);
        let is_assumed = |name: &str| assumed.is_some_and(|names| names.iter().any(|one| one == name));
        let number = |field: &NumberField| known(field.name).unwrap_or_else(|| self.usual(field, pair));
        let touched = |field: &NumberField| here && known(field.name).is_some() && !is_assumed(field.name);
        let option = |choice: &ChoiceField| {
            let stored = kept.get(choice.name).and_then(Value::as_str);
            // What is known of the pair outranks what an earlier visit stored.
            let word = stored
                .filter(|_| here)
                .or_else(|| self.usual_option(choice.name, pair))
                .or(stored);
            let at = word.and_then(|word| choice.options.iter().position(|known| *known == word));
            at.unwrap_or(0)
        };
        CalcStart {
            numbers: self.numbers.iter().map(number).collect(),
            touched: self.numbers.iter().map(touched).collect(),
            chosen: self.choices.iter().map(option).collect(),
            from_before: !here && !kept.is_empty(),
        }
    }

    /// The initial value of a number for such a pair. Common practice, no source.
    fn usual(&self, field: &NumberField, pair: &CalcPair) -> f64 {
        let child = pair.goods == Some(Goods::Child);
        match (self.what, field.name) {
            ("sole", "size") if child => 30.0,
            ("leather", "length_mm") if child => 200.0,
            ("leather", "width_mm") if child => 75.0,
            (_, "width_mm" | "length_mm") if child => 45.0,
            _ => field.usual,
        }
    }

    /// The option with which a choice begins for such a pair; `None` for the first.
    fn usual_option(&self, choice: &str, pair: &CalcPair) -> Option<&'static str> {
        match (self.what, choice) {
            ("sole", "group") if pair.goods == Some(Goods::Child) => Some("child"),
            ("level", "heights") if pair.is_prescribed() => Some("prescribed"),
            ("wear", "part") if pair.has(&Component::SoleGuard, &Side::Both) => Some("sole_guard"),
            _ => None,
        }
    }
}
