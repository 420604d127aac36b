//! The thickness of a part: with the date of the measurement, it shows how fast the part wears and when to measure
//! again.

use shared::trade::fits::limit_mm;
use shared::trade::{Component, formulas::InvalidField};

use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField};

/// No sole or heel is thicker than this, in mm.
const MOST_MM: f64 = 300.0;

pub(super) const WEAR: Helper = Helper {
    what: "wear",
    title: "Wear",
    choices: &[
        ChoiceField {
            name: "part",
            label: "Of what",
            options: &[
                ("outsole", "Sole, at its thinnest"),
                ("top_piece", "Top piece, at its thinnest"),
                ("midsole", "Midsole"),
            ],
        },
        ChoiceField {
            name: "side",
            label: "Which shoe",
            options: &[("left", "Left"), ("right", "Right"), ("both", "Both alike")],
        },
    ],
    numbers: &[NumberField::length("thickness_mm", "It is thick", 5.0, 0.5)],
    mind: "",
    calculate,
};

fn calculate(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let thickness = given.of("thickness_mm");
    if !(0.0..=MOST_MM).contains(&thickness) {
        return Err(InvalidField::new("thickness_mm", "0 to 300 mm"));
    }
    let part = Component::from(given.word("part"));
    let name = part.words();
    let mut answer = match limit_mm(&part) {
        Some(limit) if thickness <= limit => {
            CalcAnswer::new([name, ": worn out. Renew it before what is above it wears too."].concat())
        }
        Some(limit) => {
            let left = given.say(thickness - limit);
            CalcAnswer::new([name, ": ", &left, " may still wear away."].concat())
        }
        None => CalcAnswer::new([name, " is ", &given.say(thickness), " thick."].concat()),
    };
    answer
        .more
        .push("Kept at every visit, it says on the pair's page when to look again.".to_owned());
    Ok(answer)
}
