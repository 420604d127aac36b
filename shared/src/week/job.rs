//! A job in the shop, as the plan needs it.

use serde::{Deserialize, Serialize};

use crate::log::body::OperationCode;
use crate::log::entry::{SubjectId, UnixMs};
use crate::trade::formulas::day::Day;
use crate::trade::{Construction, Goods};

/// A job in the shop, as far as its plan needs it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Job {
    /// The job.
    pub id: SubjectId,
    /// The number on the tag, or else what the pair is.
    pub tag: String,
    /// Its kind of goods.
    pub goods: Goods,
    /// The construction as it was guessed; `None` if it was not guessed.
    #[serde(default)]
    pub guessed: Option<Construction>,
    /// The operations still to be done, next first.
    pub left: Vec<OperationCode>,
    /// Whether work has begun: its hidden damage has then been seen.
    #[serde(default)]
    pub begun: bool,
    /// When it is dry, and the operation or purpose of the wait, if it was noted.
    #[serde(default)]
    pub dry: Option<(UnixMs, Option<String>)>,
    /// The day promised.
    #[serde(default)]
    pub day: Option<Day>,
    /// The time on that day from which it is promised to be ready, `HH:MM`; `None` if it is promised for the end of the
    /// day.
    #[serde(default)]
    pub ready_from: Option<String>,
    /// Whether the customer wants it sooner than the shop would promise.
    #[serde(default)]
    pub rush: bool,
    /// Whether the customer waits in the shop: the job is done first.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub waits: bool,
    /// Whether it repeats earlier work because of a complaint.
    #[serde(default)]
    pub complaint: bool,
    /// Whether the bench does it before all other jobs ("do this first").
    #[serde(default)]
    pub first: bool,
    /// Until when it was put aside.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub put_aside: Option<UnixMs>,
    /// When somebody began the run that it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run_begun: Option<UnixMs>,
    /// When somebody was called away from the run that it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run_interrupted: Option<UnixMs>,
    /// When it was opened.
    #[serde(default)]
    pub opened_at: UnixMs,
    /// Whether a question or ordered material holds it, so that it is not planned.
    #[serde(default)]
    pub held: bool,
}
