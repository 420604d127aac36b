//! The calculations at the bench: the inputs that each helper asks for, and the answer in words.
//!
//! Pure: from what a person has typed to one sentence of instruction and a sketch. The formulas themselves are in
//! [`shared::trade::formulas`].
//!
//! A helper begins with numbers that nobody has measured. Each input knows whether it was touched, and an answer that
//! rests on none of those that have to be measured is an example ([`RestsOn`]): it is not an instruction, and not kept.

mod clock;
mod colour;
mod compare;
mod corner;
mod field;
mod heel;
mod input;
mod known;
mod leather;
mod lengths;
mod nails;
mod photo;
mod print;
mod seam;
mod sole;
mod start;
mod wear;

use shared::trade::Component;
use shared::trade::formulas::{InvalidField, Point};
use shared::trade::operations::{Operation, Station, operation};

pub use clock::WallClock;
pub use colour::{DYE, MixturePart, recipe};
pub use compare::{COMPARE, USUAL_WHITE, compare, compared, difference_stored, difference_words};
pub use field::{ChoiceField, FieldShown, NumberField, Of};
pub use input::RestsOn;
pub use known::{CalcPair, MeasuredOn, PartOn};
pub use lengths::{Lengths, number};
pub use nails::USUAL_NAILS;
pub use photo::{BESIDE, CORNERS, PHOTO, ReferenceObject, measure};
pub use print::{BAR_MM, check_bar};
pub use start::CalcStart;

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
    /// Whether each number was typed, or kept on this job, in the same order. All others are as the helper began.
    pub touched: Vec<bool>,
    /// Whether the helper began with what an earlier visit kept, and not with what is usual.
    pub from_before: bool,
    /// The index of the chosen option of each choice, in the order of [`Helper::choices`].
    pub chosen: Vec<usize>,
    /// The unit in which lengths are shown.
    pub lengths: Lengths,
    /// The lengths of the nails in stock, in mm.
    pub nail_lengths: Vec<f64>,
    /// The current time.
    pub clock: WallClock,
    /// What is known of the pair.
    pub pair: CalcPair,
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
    /// What it rests on: only one that rests on something measured is an instruction.
    pub rests_on: RestsOn,
}

impl CalcAnswer {
    /// Whether it rests on something measured: then it is an instruction, and can be kept.
    pub fn is_measured(&self) -> bool {
        self.rests_on == RestsOn::Measured
    }

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
    corner::CORNER,
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
    matches!(
        known.renews,
        Some(Component::Outsole | Component::SoleGuard | Component::Midsole)
    )
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
        if let Some((field, ..)) = given.asked().find(|(_, number, _)| number.is_nan()) {
            return Err(words::calc::a_number_is_needed(field.label(self.what)));
        }
        let mut answer = (self.calculate)(given).map_err(|refused| self.in_words(&refused))?;
        answer.rests_on = given.rests_on();
        let assumed: Vec<&str> = given.assumed().map(|field| field.label(self.what)).collect();
        if answer.is_measured() && !assumed.is_empty() {
            answer.more.push(words::calc::still_assumed(&assumed.join("; ")));
        }
        Ok(answer)
    }

    /// Whether a number is asked for with these choices, by the index of the chosen option of each.
    pub fn asks(&self, field: &NumberField, chosen: &[usize]) -> bool {
        let FieldShown::With(choice, option) = field.shown else {
            return true;
        };
        let at = self.choices.iter().position(|known| known.name == choice);
        let word = at.and_then(|at| self.choices[at].options.get(*chosen.get(at)?));
        word.is_some_and(|word| *word == option)
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
