//! What the bench and the counter are told.

use serde::{Deserialize, Serialize};

use crate::log::entry::{SubjectId, UnixMs};

/// The place of the final check, which is no station: the counter, with clean hands.
pub const FINAL_CHECK: &str = "final_check";

/// The plan, as the Bench shows it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct RunTold {
    /// The planned jobs, by when they are taken up next.
    pub order: Vec<Planned>,
    /// What each who works at the bench should do now, the first of them first.
    pub runs: Vec<Run>,
    /// Jobs that will be late, the one that matters most first.
    pub risks: Vec<Sentence>,
    /// Jobs that are held, and by when they must be let go.
    pub held: Vec<Sentence>,
    /// Jobs that cannot be planned, and why.
    pub unplanned: Vec<Sentence>,
}

/// When a job is taken up next, and what comes of it.
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
}

/// The same work on several pairs, one after another.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Run {
    /// The station's word in the log, or the operation's where it has no station of the trade; [`FINAL_CHECK`] for that.
    pub place: String,
    /// The jobs in order, and what is done on each.
    pub jobs: Vec<RunJob>,
    /// Whether it can begin at once.
    pub now: bool,
    /// When it begins and until when it takes, in words.
    pub when: String,
    /// Why this, a sentence each.
    pub why: Vec<String>,
}

/// One pair of a run.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RunJob {
    /// The job.
    pub job: SubjectId,
    /// Its operation; empty for the final check.
    pub operation: String,
    /// Only its cement is put on: the operation is done when it has dried and was joined.
    pub coat: bool,
    /// Minutes that must then pass, 0 for none.
    pub wait_min: u32,
}

/// What was promised: a day in words and, if one was said, the time `HH:MM` from which it is ready.
pub fn promised(day: &str, from: &str) -> String {
    match from {
        "" => day.to_owned(),
        from => [day, ", from ", from].concat(),
    }
}

/// A sentence about a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sentence {
    /// The job.
    pub job: SubjectId,
    /// The number hung on the pair, else what it is.
    pub name: String,
    /// The sentence.
    pub words: String,
    /// What would help, in words; empty where nothing would, or nothing is wrong.
    pub help: String,
    /// Whether doing it first would help.
    pub first: bool,
}

/// What can be promised.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct DaysTold {
    /// The coming days on which work is done.
    pub days: Vec<DayTold>,
    /// The day to suggest, `YYYY-MM-DD`; empty if none is sure enough, or nothing is to be done.
    pub suggested: String,
    /// From when on that day it can be promised, `HH:MM`; empty for by its end.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub from: String,
}

/// A day at the counter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DayTold {
    /// `YYYY-MM-DD`.
    pub day: String,
    /// The share of its time that is planned, from 0 to 1.
    pub load: f64,
    /// Whether next to nothing is left.
    pub full: bool,
    /// How often what is brought now would be done by its end, from 0 to 1; `None` where nothing is to be done.
    pub kept: Option<f64>,
}
