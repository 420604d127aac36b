//! Which nail length to use from stock, and where the nails are placed.

use shared::trade::formulas::nails::{
    Direction, LEAST_HOLD_MM, Layers, NailFit, Nailing, Nails, USUAL_INSET_MM,
};
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
        NumberField::length("clearance_mm", 3.0, 0.5).holding(),
        NumberField::plain("count", 7.0, 1.0).holding(),
        WIDTH,
        LENGTH,
    ],
    calculate,
};

fn calculate(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let outline = heel_outline(given.of(WIDTH.name), given.of(LENGTH.name));
    let direction = given.choice("direction")?;
    let nails = Nailing {
        direction,
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
    let mut answer = CalcAnswer::new(which(given, &nails, direction));
    answer.more.extend(why(given, &nails, direction));
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

/// Which nail to pull, or why none.
fn which(given: &CalcInput<'_>, nails: &Nails, direction: Direction) -> String {
    let Some(nail) = nails.choose_mm.map(|mm| given.say(mm)) else {
        return match nails.fit {
            NailFit::NoRoom => words::calc::nails::no_room().to_owned(),
            _ => words::calc::nails::none_short_enough(&given.say(nails.longest_mm)),
        };
    };
    match (nails.fit, direction) {
        (NailFit::EndsBefore { before_mm }, Direction::Below) => {
            words::calc::nails::does_not_reach_seat(&nail, &given.say(before_mm))
        }
        (NailFit::EndsBefore { before_mm }, _) => {
            words::calc::nails::does_not_reach_block(&nail, &given.say(before_mm))
        }
        _ => words::calc::nails::use_nails(&nail),
    }
}

/// Why that nail: how short it must be, and how it holds.
fn why(given: &CalcInput<'_>, nails: &Nails, direction: Direction) -> Vec<String> {
    if nails.fit == NailFit::NoRoom {
        return Vec::new();
    }
    let mut why = vec![words::calc::nails::must_be_shorter_than(
        &given.say(nails.longest_mm),
    )];
    let hold = given.say(nails.hold_mm.unwrap_or_default());
    match (nails.fit, direction) {
        (NailFit::Holds, Direction::Below) => why.push(words::calc::nails::holds_in_seat(&hold)),
        (NailFit::Holds, _) => why.push(words::calc::nails::holds_in_block(&hold)),
        (NailFit::HoldsLittle, _) => {
            let least = given.say(LEAST_HOLD_MM);
            why.push(words::calc::nails::holds_little(&hold, &least));
        }
        _ => {}
    }
    why
}
