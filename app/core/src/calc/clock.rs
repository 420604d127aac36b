//! When something that is started now is ready.

use shared::trade::formulas::day::Day;
use shared::trade::formulas::instant::Instant;
use shared::trade::formulas::ready::{DryingKind, JudgedBy, Started};
use shared::trade::formulas::{Calculation, InvalidField};

use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField};

/// The current time on the clock on the wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WallClock {
    now: Instant,
}

impl WallClock {
    /// The wall clock at a time in milliseconds of UTC, with local time this many minutes ahead of UTC; `None` if it is
    /// out of range.
    pub fn at(utc_ms: i64, offset_min: i64) -> Option<Self> {
        let now = Instant::at(utc_ms.div_euclid(1000), offset_min)?;
        Some(Self { now })
    }

    /// The day; `None` if it is out of range.
    pub(super) fn day(self) -> Option<Day> {
        Day::parse(self.now.to_string().get(..10)?)
    }

    /// A moment in words: the time, with the day if it is not today.
    fn say(self, moment: Instant) -> String {
        let (moment, now) = (moment.to_string(), self.now.to_string());
        let (day, time) = (&moment[..10], &moment[11..16]);
        let tomorrow = self.now.after(24 * 60).map(|next| next.to_string());
        if day == &now[..10] {
            time.to_owned()
        } else if tomorrow.is_some_and(|next| day == &next[..10]) {
            words::calc::clock::tomorrow_at(time)
        } else {
            words::calc::clock::on_day_at(day, time)
        }
    }
}

pub(super) const READY: Helper = Helper {
    what: "ready",
    choices: &[ChoiceField {
        name: "kind",
        options: DryingKind::WORDS,
    }],
    numbers: &[
        NumberField::plain("sheet_min", 0.0, 5.0).holding(),
        NumberField::plain("sheet_max", 0.0, 5.0).holding(),
    ],
    calculate,
};

/// The longest time that a product sheet may ask, a year, in minutes.
const MOST_MINUTES: u32 = 525_600;

/// Minutes from the product sheet; `None`, for the usual time, if nothing was typed.
fn minutes(number: f64, field: &str) -> Result<Option<u32>, InvalidField> {
    match number {
        0.0 => Ok(None),
        some if (0.0..=f64::from(MOST_MINUTES)).contains(&some) => Ok(Some(some.round() as u32)),
        _ => {
            let allowed = words::calc::clock::minutes_from_to(0, MOST_MINUTES);
            Err(InvalidField::new(field, allowed))
        }
    }
}

fn calculate(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let clock = given.clock;
    let ready = Started {
        kind: given.choice("kind")?,
        started: clock.now,
        min: minutes(given.of("sheet_min"), "sheet_min")?,
        max: minutes(given.of("sheet_max"), "sheet_max")?,
    }
    .calculate()
    .map_err(|refused| InvalidField::new(["sheet_", &refused.field].concat(), refused.allowed))?;
    let (at, strong) = (clock.say(ready.ready_at), clock.say(ready.full_strength_at));
    let say = match (ready.judged_by, ready.join_by) {
        (JudgedBy::Touch, Some(join)) => words::calc::clock::feel_and_join(&at, &clock.say(join)),
        (JudgedBy::Touch, None) => words::calc::clock::feel(&at),
        (JudgedBy::Clock, _) => words::calc::clock::ready_at(&at),
    };
    let mut answer = CalcAnswer::new(say);
    answer.more.push(words::calc::clock::full_strength_at(&strong));
    answer.more.push(ready.note.to_owned());
    let minutes = (ready.ready_at.unix_s() - clock.now.unix_s()) / 60;
    answer.wait = u32::try_from(minutes).ok().filter(|minutes| *minutes > 0);
    Ok(answer)
}
