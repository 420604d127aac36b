//! The answers for the bench and the counter, in words.

use serde::{Deserialize, Serialize};

use super::certainty::Certainty;
use crate::log::body::OperationCode;
use crate::log::entry::{SubjectId, UnixMs};
use crate::trade::formulas::day::Day;

/// The place of the final check, which is not a station: it is done at the counter.
pub const FINAL_CHECK: &str = "final_check";

/// The place where soles are wetted, which is not a station either: water is put on all of them in one go.
pub const WETTING: &str = "wetting";

/// The plan, as the Bench shows it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct WeekPlan {
    /// The planned jobs, in order of when their work begins.
    pub order: Vec<Planned>,
    /// For each worker, what to do now, the first worker first.
    pub runs: Vec<Run>,
    /// Jobs that will be late, the most important first.
    pub risks: Vec<Sentence>,
    /// Held jobs, and by when they must be released.
    pub held: Vec<Sentence>,
    /// What has to be wetted before the shop closes, so that it can be worked on when it opens again, in words.
    #[serde(default)]
    pub tonight: Option<String>,
    /// Jobs that cannot be planned, and why.
    pub unplanned: Vec<Sentence>,
    /// Whether the device does not have the whole log yet, so that other devices may show another plan.
    #[serde(default)]
    pub preliminary: bool,
}

/// When work on a job begins next, and when it is done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Planned {
    /// The job.
    pub job: SubjectId,
    /// When its next operation begins.
    pub at: UnixMs,
    /// The same in words.
    pub when: String,
    /// When all of it is done, in words.
    pub done: String,
    /// Why it is done on another day than was shown before, in words; `None` if that has not changed today.
    #[serde(default)]
    pub why: Option<String>,
}

/// The same work on several pairs, one after another.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Run {
    /// The station's word in the log, or the operation's word if it has no station of the trade; [`FINAL_CHECK`] for
    /// the final check.
    pub place: String,
    /// The jobs in order, and what is done on each.
    pub jobs: Vec<RunJob>,
    /// Whether it can begin at once.
    pub now: bool,
    /// When it begins and ends, in words.
    pub when: String,
    /// How long it takes, in minutes, from its begin to its end.
    #[serde(default)]
    pub minutes: u32,
    /// The reasons for this run, one sentence each.
    pub why: Vec<String>,
    /// What has put this run in the place of another one that was not done, in words; `None` if nothing has.
    #[serde(default)]
    pub changed: Option<String>,
    /// Whether somebody has begun it.
    #[serde(default)]
    pub begun: bool,
}

/// One pair of a run.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RunJob {
    /// The job.
    pub job: SubjectId,
    /// Its operation; `None` for the final check.
    pub operation: Option<OperationCode>,
    /// Whether only a first part of the operation is done, such as putting cement on: the operation is done when that has
    /// dried and the rest is done.
    pub coat: bool,
    /// Minutes that must then pass; 0 for none.
    pub wait_min: u32,
    /// What dries meanwhile, a word of [`WaitKind`](crate::trade::WaitKind); `None` if nothing does.
    #[serde(default)]
    pub dries: Option<String>,
}

/// What was promised: a day in words and, if one was given, the time `HH:MM` from which it is ready.
pub fn promised(day: &str, from: Option<&str>) -> String {
    match from {
        None => day.to_owned(),
        Some(from) => words::plan::day_from_time(day, from),
    }
}

/// A sentence about a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sentence {
    /// The job.
    pub job: SubjectId,
    /// The number on the tag, or else what the pair is.
    pub name: String,
    /// The sentence.
    pub words: String,
    /// What would help, in words; `None` if nothing would, or nothing is wrong.
    pub help: Option<String>,
    /// Whether doing it first would help.
    pub first: bool,
}

/// The days that can be promised.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct DayChoices {
    /// The coming days on which work is done.
    pub days: Vec<DayChoice>,
    /// The day to suggest; `None` if none is certain enough, or there is no new work.
    pub suggested: Option<Day>,
    /// The time on that day from which it can be promised, `HH:MM`; `None` for the end of the day.
    #[serde(default)]
    pub from: Option<String>,
}

/// A day at the counter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DayChoice {
    /// The day.
    pub day: Day,
    /// The share of its time that is planned, from 0 to 1; what is brought now is planned too.
    pub load: f64,
    /// Whether next to no time is left, and so none for what is brought now. Never on the suggested day or later.
    pub full: bool,
    /// The probability, from 0 to 1, that what is brought now is done by its end, and no other pair is later for it;
    /// `None` without new work.
    pub kept: Option<f64>,
    /// The same if other pairs may be later for it; not less than `kept`.
    #[serde(default)]
    pub pressed: Option<f64>,
    /// The names of the pairs that are then late, and would not be otherwise; empty if they are not known.
    #[serde(default)]
    pub late_instead: Vec<String>,
}

impl DayChoice {
    /// How certain it is that what is brought now is done by the end of the day; `None` without new work. A day that
    /// would be likely at the expense of other pairs is tight.
    pub fn certainty(&self) -> Option<Certainty> {
        let certainty = Certainty::of(self.kept?);
        Some(if self.needs_others() {
            Certainty::Tight
        } else {
            certainty
        })
    }

    /// Whether the day is kept only if other pairs wait.
    pub fn needs_others(&self) -> bool {
        let [kept, pressed] = [self.kept, self.pressed].map(|share| share.map(Certainty::of));
        kept == Some(Certainty::Late) && pressed >= Some(Certainty::Likely)
    }
}
