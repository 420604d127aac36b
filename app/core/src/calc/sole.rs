//! Calculations for the sole: its size, its thickness, and what another layer does to the pitch.

use shared::trade::formulas::heel::Pitch;
use shared::trade::formulas::size::{Foot, InAll, System};
use shared::trade::formulas::unit::{Convert, Unit};
use shared::trade::formulas::{Calculation, InvalidField};

use super::lengths::rounded;
use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField, Sketch};

pub(super) const SOLE: Helper = Helper {
    what: "sole",
    title: "Sole size",
    choices: &[
        ChoiceField {
            name: "system",
            label: "Size in",
            options: &[
                ("eu", "EU"),
                ("uk", "UK"),
                ("us_men", "US men"),
                ("us_women", "US women"),
                ("foot", "mm of foot"),
            ],
        },
        ChoiceField {
            name: "group",
            label: "UndoScope",
            options: &[("adult", "Grown"), ("child", "Child")],
        },
    ],
    numbers: &[
        NumberField::plain("size", "Size", 42.0, 0.5),
        NumberField::length("thickness_mm", "Thickness at an unworn edge", 5.0, 0.5),
    ],
    mind: "",
    calculate: sole,
};

fn sole(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let (size, thick) = (given.of("size"), given.of("thickness_mm"));
    let system: Option<System> = match given.word("system") {
        "foot" => None,
        _ => Some(given.choice("system")?),
    };
    let sizes = Foot {
        group: given.choice("group")?,
        foot_mm: system.is_none().then_some(size),
        system,
        size: system.map(|_| size),
    }
    .calculate()
    .map_err(|refused| InvalidField::new("size", refused.allowed))?;
    let irons = Convert {
        value: thick,
        from: Unit::Mm,
        to: Unit::Iron,
    }
    .calculate()?
    .value;
    let say = [
        "Pull size ",
        &rounded(sizes.nearest_half.eu, 1),
        " (EU) at ",
        &given.say(thick),
        ".",
    ]
    .concat();
    let mut answer = CalcAnswer::new(say);
    answer.more.push([&rounded(irons, 1), " irons."].concat());
    answer.more.push(about(sizes.nearest_half));
    answer.more.push(format!(
        "Foot {}, last {}.",
        given.say(sizes.foot_mm),
        given.say(sizes.last_mm)
    ));
    answer.more.push(sizes.reading.to_owned());
    Ok(answer)
}

fn about(half: InAll) -> String {
    format!(
        "About EU {}, UK {}, US men {}, US women {}: the nearest half.",
        rounded(half.eu, 1),
        rounded(half.uk, 1),
        rounded(half.us_men, 1),
        rounded(half.us_women, 1)
    )
}

pub(super) const PITCH: Helper = Helper {
    what: "pitch",
    title: "Pitch",
    choices: &[],
    numbers: &[
        NumberField::length("seat_mm", "Height of the heel seat", 30.0, 0.5),
        NumberField::length("tread_mm", "Thickness of the sole at the tread", 6.0, 0.5),
        NumberField::length("run_mm", "Level, from seat to tread", 165.0, 5.0),
        NumberField::length("tread_change_mm", "More under the tread: a guard", 2.0, 0.5),
        NumberField::length("seat_change_mm", "More under the heel", 0.0, 0.5),
    ],
    mind: "",
    calculate: pitch,
};

/// The smallest change of pitch that is felt, in degrees (common practice, no source).
const FELT: f64 = 0.05;

fn pitch(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let (seat, tread, run) = (given.of("seat_mm"), given.of("tread_mm"), given.of("run_mm"));
    let (under_seat, under_tread) = (given.of("seat_change_mm"), given.of("tread_change_mm"));
    let pitched = Pitch {
        seat_mm: seat,
        tread_mm: tread,
        run_mm: run,
        seat_change_mm: Some(under_seat),
        tread_change_mm: Some(under_tread),
    }
    .calculate()?;
    let change = pitched.change_deg;
    let missing = under_tread - under_seat;
    let say = if change.abs() < FELT {
        "The pitch stays.".to_owned()
    } else if missing > 0.0 {
        [
            "Put ",
            &given.say(missing),
            " under the heel, or the toe comes up.",
        ]
        .concat()
    } else {
        [
            "Put ",
            &given.say(-missing),
            " under the tread, or the heel comes up.",
        ]
        .concat()
    };
    let mut answer = CalcAnswer::new(say);
    answer.more.push(format!(
        "Pitch {} degrees, changed by {}.",
        rounded(pitched.pitch_deg, 1),
        rounded(change, 1)
    ));
    answer.sketch = Some(Sketch::Side {
        before: [seat, tread],
        after: [seat + under_seat, tread + under_tread],
        run,
    });
    Ok(answer)
}
