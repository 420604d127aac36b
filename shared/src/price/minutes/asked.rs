//! Attended minutes as a calculation of the command line.

use std::collections::BTreeMap;

use serde::{Deserialize, Deserializer, Serialize};

use super::GAP_LIMIT_MIN;
use super::Rules;
use super::infer::{Act, infer};
use super::share::DryingSpan;
use crate::price::records::At;
use crate::trade::formulas::calculation::gives;
use crate::trade::formulas::instant::Instant;
use crate::trade::formulas::{Allowed, AnswerField, Calculation, Field, InvalidField};

const MOST: usize = 10_000;
const DAY_MS: i64 = 86_400_000;
const MINUTE_MS: f64 = 60_000.0;
/// The name of a step that stands for an act at the counter.
const COUNTER: &str = "counter";

const STAMPS: Field = Field::new(
    "stamps",
    "objects of person, pair, step (\"counter\" for an act at the counter, \"\" for none) and at (RFC 3339, HH:MM, or minutes of the day); one day, 1990 to 2099",
    Allowed::Described("a list of at most 10000 stamps"),
);
const WAITS: Field = Field::new(
    "waits",
    "objects of pair, from and to, as at of a stamp; to not before from",
    Allowed::Described("a list of at most 10000 waits"),
)
.or_none();
const LIMIT: Field = Field::number(
    "gap_limit_min",
    "minutes; a longer gap is no work; 90 if left out",
    0.0,
    1_440.0,
)
.or_none();

/// A moment of the day.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum Moment {
    /// A date and time.
    DateTime(Instant),
    /// A time of the day.
    Clock(TimeOfDay),
    /// Minutes since midnight.
    Minutes(f64),
}

/// A time of the day: `HH:MM` or `HH:MM:SS`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TimeOfDay {
    seconds: i64,
}

impl<'de> Deserialize<'de> for TimeOfDay {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        let date = format!("2000-01-01T{text}{}Z", if text.len() == 5 { ":00" } else { "" });
        let seconds = Instant::parse(&date).map(|instant| instant.unix_s().rem_euclid(DAY_MS / 1_000));
        let of = |seconds| Self { seconds };
        seconds
            .map(of)
            .ok_or_else(|| serde::de::Error::custom("a time as HH:MM"))
    }
}

/// A person worked on a pair.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StampAsked {
    /// The person.
    pub person: String,
    /// The pair.
    pub pair: String,
    /// The name of the step.
    pub step: String,
    /// The time of the stamp.
    pub at: Moment,
}

/// A pair dried.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WaitAsked {
    /// The pair.
    pub pair: String,
    /// The beginning.
    pub from: Moment,
    /// The end.
    pub to: Moment,
}

/// A day of stamps. No trade norm fills a gap: a share longer than the limit counts as 0.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StampDay {
    /// The stamps of all people.
    pub stamps: Vec<StampAsked>,
    /// When pairs dried.
    #[serde(default)]
    pub waits: Option<Vec<WaitAsked>>,
    /// The longest share of a gap that counts as work, minutes.
    #[serde(default)]
    pub gap_limit_min: Option<f64>,
}

/// The minutes of one person's step on a pair.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StepMinutes {
    /// The person.
    pub person: String,
    /// The pair.
    pub pair: String,
    /// The step; empty for the pair as a whole.
    pub step: String,
    /// Attended minutes.
    pub minutes: f64,
}

/// The minutes of one person on the day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PersonMinutes {
    /// The person.
    pub person: String,
    /// Attended minutes; never more than `day_min`.
    pub minutes: f64,
    /// From the first stamp to the last, minutes.
    pub day_min: f64,
}

/// The attended minutes of a day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Inferred {
    /// By person, pair and step.
    pub steps: Vec<StepMinutes>,
    /// By person.
    pub people: Vec<PersonMinutes>,
    /// The sum over all people, in minutes.
    pub total_min: f64,
}

impl Moment {
    /// Milliseconds since 1970 or since midnight. `None` for a time that is out of range.
    fn ms(self) -> Option<i64> {
        match self {
            Moment::DateTime(instant) => {
                let ms = instant.unix_s().checked_mul(1_000)?;
                At(ms, 0).day().map(|_| ms)
            }
            Moment::Clock(clock) => Some(clock.seconds * 1_000),
            Moment::Minutes(minutes) if (0.0..=1_440.0).contains(&minutes) => {
                Some((minutes * MINUTE_MS).round() as i64)
            }
            Moment::Minutes(_) => None,
        }
    }
}

impl StampDay {
    fn acts(&self) -> Result<BTreeMap<&str, Vec<Act<'_, &str>>>, InvalidField> {
        if self.stamps.len() > MOST {
            return Err(STAMPS.refused());
        }
        let mut by_person: BTreeMap<&str, Vec<_>> = BTreeMap::new();
        for stamp in &self.stamps {
            let at = stamp.at.ms().ok_or_else(|| STAMPS.refused())?;
            let counter = stamp.step == COUNTER;
            by_person.entry(&stamp.person).or_default().push(Act {
                job: stamp.pair.as_str(),
                operation: Some(stamp.step.as_str()).filter(|step| !counter && !step.is_empty()),
                at,
                counter,
                noted: None,
            });
        }
        if by_person.values().any(|acts| span(acts) > DAY_MS) {
            return Err(STAMPS.refused());
        }
        Ok(by_person)
    }

    fn spans(&self) -> Result<Vec<DryingSpan<&str>>, InvalidField> {
        let waits = self.waits.as_deref().unwrap_or_default();
        if waits.len() > MOST {
            return Err(WAITS.refused());
        }
        let span = |wait: &'_ WaitAsked| {
            let (from, until) = (wait.from.ms()?, wait.to.ms()?);
            (from <= until).then_some((from, until))
        };
        waits
            .iter()
            .map(|wait| {
                let (from, until) = span(wait).ok_or_else(|| WAITS.refused())?;
                Ok(DryingSpan {
                    job: wait.pair.as_str(),
                    from,
                    until,
                })
            })
            .collect()
    }
}

/// The time from the first act to the last, in ms.
fn span(acts: &[Act<'_, &str>]) -> i64 {
    let first = acts.iter().map(|act| act.at).min().unwrap_or(0);
    let last = acts.iter().map(|act| act.at).max().unwrap_or(0);
    last - first
}

impl Calculation for StampDay {
    const NAME: &'static str = "minutes";
    const TAKES: &'static [Field] = &[STAMPS, WAITS, LIMIT];
    const GIVES: &'static [AnswerField] = gives![
        "steps" "list of person, pair, step, minutes", "people" "list of person, minutes, day_min (first stamp to last)",
        "total_min" "minutes, everybody's",
    ];
    type Answer = Inferred;

    fn calculate(&self) -> Result<Inferred, InvalidField> {
        let limit_min = LIMIT.check(self.gap_limit_min.unwrap_or(GAP_LIMIT_MIN))?;
        let rules = Rules {
            limit_min,
            usual: &|_| None,
        };
        let waits = self.spans()?;
        let mut answer = Inferred {
            steps: Vec::new(),
            people: Vec::new(),
            total_min: 0.0,
        };
        for (person, acts) in self.acts()? {
            let day_min = span(&acts) as f64 / MINUTE_MS;
            let shares = infer(acts, &waits, &rules).shares;
            // The sum of many shares can be slightly above the day because of rounding.
            let minutes = shares
                .values()
                .map(|share| share.minutes)
                .sum::<f64>()
                .min(day_min);
            answer.total_min += minutes;
            answer.people.push(PersonMinutes {
                person: person.to_owned(),
                minutes,
                day_min,
            });
            answer
                .steps
                .extend(shares.into_iter().map(|((pair, step), share)| StepMinutes {
                    person: person.to_owned(),
                    pair: pair.to_owned(),
                    step: step.unwrap_or_default().to_owned(),
                    minutes: share.minutes,
                }));
        }
        Ok(answer)
    }
}
