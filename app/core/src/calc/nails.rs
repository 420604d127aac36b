//! Which nail length to use from stock, and where the nails are placed.

use shared::trade::formulas::nails::{Layers, Nailing, USUAL_INSET_MM};
use shared::trade::formulas::{Calculation, InvalidField};

use super::heel::{LENGTH, WIDTH, heel_outline};
use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField, Sketch};

/// The lengths of nails in a usual stock, in mm, if the shop has entered none. From memory.
pub const USUAL_NAILS: [f64; 9] = [10.0, 11.0, 13.0, 14.0, 16.0, 17.0, 19.0, 22.0, 25.0];

pub(super) const NAILS: Helper = Helper {
    what: "nails",
    choices: &[
        ChoiceField {
            name: "direction",
            options: &["inside", "below", "top_piece"],
        },
        ChoiceField {
            name: "shank",
            options: &["plain", "threaded"],
        },
    ],
    numbers: &[
        NumberField::length("block_mm", 25.0, 1.0),
        NumberField::length("top_piece_mm", 6.0, 0.5),
        NumberField::length("seat_mm", 5.0, 0.5),
        NumberField::length("midsole_mm", 0.0, 0.5),
        NumberField::length("insole_mm", 3.0, 0.5),
        NumberField::length("clearance_mm", 3.0, 0.5),
        NumberField::plain("count", 7.0, 1.0),
        WIDTH,
        LENGTH,
    ],
    calculate,
};

fn calculate(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let outline = heel_outline(given.of(WIDTH.name), given.of(LENGTH.name));
    let nails = Nailing {
        direction: given.choice("direction")?,
        layers_mm: Layers {
            insole: given.of("insole_mm"),
            midsole: given.of("midsole_mm"),
            seat: given.of("seat_mm"),
            block: given.of("block_mm"),
            top_piece: given.of("top_piece_mm"),
        },
        clearance_mm: given.of("clearance_mm"),
        stock_mm: given.nail_lengths.clone(),
        outline_mm: Some(outline.clone()),
        inset_mm: Some(USUAL_INSET_MM),
        spacing_mm: None,
        // The calculation refuses a number that is out of range.
        count: Some(given.of("count").round() as u32),
        shank: Some(given.choice("shank")?),
    }
    .calculate()?;
    let say = match nails.choose_mm {
        Some(pull) => words::calc::nails::pull_nail(&given.say(pull)),
        None => words::calc::nails::none_short_enough(&given.say(nails.longest_mm)),
    };
    let mut answer = CalcAnswer::new(say);
    let longest = given.say(nails.longest_mm);
    answer
        .more
        .push(words::calc::nails::must_be_shorter_than(&longest));
    let inset = given.say(USUAL_INSET_MM);
    answer
        .more
        .push(words::calc::nails::nails_from_edge(nails.count, &inset));
    if nails.prepunch {
        answer
            .more
            .push(words::calc::nails::punch_holes_first().to_owned());
    }
    answer.sketch = Some(Sketch::Heel {
        outline,
        nails: nails.positions_mm,
        line: None,
    });
    Ok(answer)
}
