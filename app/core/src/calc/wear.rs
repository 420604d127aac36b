//! The thickness of a part: with the date of the measurement, it shows how fast the part wears and when to measure
//! again.

use shared::log::body::Side;
use shared::trade::{Component, formulas::InvalidField};
use shared::wear::guards::THICKEST_GUARD_MM;
use shared::wear::wear_forecast::too_close;

use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField};

/// No sole or heel is thicker than this, in mm.
const MOST_MM: f64 = 300.0;

pub(super) const WEAR: Helper = Helper {
    what: "wear",
    choices: &[
        ChoiceField {
            name: "part",
            options: &["outsole", "sole_guard", "top_piece", "midsole"],
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
    let side = Side::from(given.word("side"));
    let chosen = Component::from(given.word("part"));
    let under_guard = chosen == Component::Outsole && given.pair.has(&Component::SoleGuard, &side);
    // As the pair's page reads it: see `shared::wear::guards`.
    let part = match under_guard && thickness <= THICKEST_GUARD_MM {
        true => Component::SoleGuard,
        false => chosen,
    };
    let name = part.words();
    let limit = given.pair.limit_mm(&part, &side);
    let worn = limit.is_some_and(|limit| thickness <= limit);
    let mut answer = match limit {
        Some(_) if worn => CalcAnswer::new(words::calc::wear::worn_out(name)),
        Some(limit) => {
            let left = given.say(thickness - limit);
            CalcAnswer::new(words::calc::wear::may_still_wear_away(name, &left))
        }
        None => CalcAnswer::new(words::calc::wear::is_thick(name, &given.say(thickness))),
    };
    if under_guard {
        answer.more.push(words::calc::wear::guard_is_on().to_owned());
    }
    if !worn {
        answer.more.push(when_again(given, &part, &side));
    }
    Ok(answer)
}

/// Why the measurement and those before it forecast nothing yet, or what they are kept for.
fn when_again(given: &CalcInput<'_>, part: &Component, side: &Side) -> String {
    let first = given.pair.first_measured(part, side);
    let close = first
        .zip(given.clock.day())
        .and_then(|(first, today)| too_close(first, today));
    close.unwrap_or_else(|| words::calc::wear::kept_at_every_visit().to_owned())
}
