//! Calculations for the sole: its size, its thickness, and what another layer does to the pitch.

use shared::trade::formulas::heel::Pitch;
use shared::trade::formulas::size::{Foot, FootGroup, Sizes, System};
use shared::trade::formulas::unit::{Convert, Unit};
use shared::trade::formulas::{Calculation, InvalidField};

use super::lengths::rounded;
use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField, Sketch};

pub(super) const SOLE: Helper = Helper {
    what: "sole",
    choices: &[
        ChoiceField {
            name: "system",
            options: &["eu", "uk", "us_men", "us_women", "foot"],
        },
        ChoiceField {
            name: "group",
            options: &["adult", "child"],
        },
    ],
    numbers: &[
        NumberField::plain("size", 42.0, 0.5),
        NumberField::length("thickness_mm", 5.0, 0.5),
    ],
    calculate: sole,
};

fn sole(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let (size, thick) = (given.of("size"), given.of("thickness_mm"));
    let system: Option<System> = match given.word("system") {
        "foot" => None,
        _ => Some(given.choice("system")?),
    };
    let group: FootGroup = given.choice("group")?;
    let sizes = Foot {
        group,
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
    let say = words::calc::sole::use_size(&rounded(sizes.nearest_half.eu, 1), &given.say(thick));
    let mut answer = CalcAnswer::new(say);
    answer.more.push(words::calc::sole::irons(&rounded(irons, 1)));
    answer.more.push(about(&sizes));
    let counted = matches!(system, Some(System::Uk | System::UsMen | System::UsWomen));
    let begun_again = sizes.nearest_half.uk < sizes.exact.uk - 1.0;
    if group == FootGroup::Child && (begun_again || (counted && size < LAST_AMBIGUOUS)) {
        let begins_again = words::calc::sole::begins_again_at_one();
        answer.more.push(begins_again.to_owned());
    }
    answer.more.push(words::calc::sole::foot_and_last(
        &given.say(sizes.foot_mm),
        &given.say(sizes.last_mm),
    ));
    answer.more.push(sizes.reading.to_owned());
    Ok(answer)
}

/// A child's UK or US size below this can also be one of those that begin again at 1 after 13½.
const LAST_AMBIGUOUS: f64 = 7.0;

fn about(sizes: &Sizes) -> String {
    let half = sizes.nearest_half;
    let (eu, uk) = (rounded(half.eu, 1), rounded(half.uk, 1));
    match sizes.us_child {
        Some([from, to]) => {
            words::calc::sole::about_child_sizes(&eu, &uk, &rounded(from, 1), &rounded(to, 1))
        }
        None => {
            let (men, women) = (rounded(half.us_men, 1), rounded(half.us_women, 1));
            words::calc::sole::about_sizes(&eu, &uk, &men, &women)
        }
    }
}

pub(super) const PITCH: Helper = Helper {
    what: "pitch",
    choices: &[],
    numbers: &[
        NumberField::length("seat_mm", 30.0, 0.5),
        NumberField::length("tread_mm", 6.0, 0.5),
        NumberField::length("run_mm", 165.0, 5.0),
        NumberField::length("tread_change_mm", 2.0, 0.5).holding(),
        NumberField::length("seat_change_mm", 0.0, 0.5).holding(),
    ],
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
        words::calc::sole::pitch_stays().to_owned()
    } else if missing > 0.0 {
        words::calc::sole::put_under_heel(&given.say(missing))
    } else {
        words::calc::sole::put_under_tread(&given.say(-missing))
    };
    let mut answer = CalcAnswer::new(say);
    answer.more.push(words::calc::sole::pitch_changed(
        &rounded(pitched.pitch_deg, 1),
        &rounded(change, 1),
    ));
    answer.sketch = Some(Sketch::Side {
        before: [seat, tread],
        after: [seat + under_seat, tread + under_tread],
        run,
    });
    Ok(answer)
}
