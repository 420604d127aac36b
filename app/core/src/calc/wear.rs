//! The thickness of a part: with the date of the measurement, it shows how fast the part wears and when to measure
//! again.

use shared::trade::fits::limit_mm;
use shared::trade::{Component, formulas::InvalidField};

use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField};

/// No sole or heel is thicker than this, in mm.
const MOST_MM: f64 = 300.0;

pub(super) const WEAR: Helper = Helper {
    what: "wear",
    choices: &[
        ChoiceField {
            name: "part",
            options: &["outsole", "top_piece", "midsole"],
        },
        ChoiceField {
            name: "side",
            options: &["left", "right", "both"],
        },
    ],
    numbers: &[NumberField::length("thickness_mm", 5.0, 0.5)],
    calculate,
};

fn calculate(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let thickness = given.of("thickness_mm");
    if !(0.0..=MOST_MM).contains(&thickness) {
        let allowed = words::calc::wear::millimetres_up_to(MOST_MM);
        return Err(InvalidField::new("thickness_mm", allowed));
    }
    let part = Component::from(given.word("part"));
    let name = part.words();
    let mut answer = match limit_mm(&part) {
        Some(limit) if thickness <= limit => CalcAnswer::new(words::calc::wear::worn_out(name)),
        Some(limit) => {
            let left = given.say(thickness - limit);
            CalcAnswer::new(words::calc::wear::may_still_wear_away(name, &left))
        }
        None => CalcAnswer::new(words::calc::wear::is_thick(name, &given.say(thickness))),
    };
    answer
        .more
        .push(words::calc::wear::kept_at_every_visit().to_owned());
    Ok(answer)
}
