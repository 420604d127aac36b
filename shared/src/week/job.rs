//! A job in the shop, as the plan needs it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

#[cfg(feature = "zones")]
use super::cement::RunningWait;
use crate::log::body::OperationCode;
use crate::log::entry::{SubjectId, UnixMs};
use crate::log::skipped_fields::is_zero;
#[cfg(feature = "zones")]
use crate::trade::amount::USUAL_AMOUNT;
use crate::trade::formulas::day::Day;
use crate::trade::{Construction, Goods, Material};

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
    /// What dries, a word of [`WaitKind`](crate::trade::WaitKind); `None` if it was not noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dries: Option<String>,
    /// How often that was noted for the operation since the last step.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub dried: u32,
    /// Of `left`, the operations that are more or less than the usual work on a pair, in percent of it.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub amounts: BTreeMap<OperationCode, u32>,
    /// Of `left`, the operations that were done in part with a cement that was named, as in
    /// [`Step::cement`](crate::log::body::Step::cement).
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub cements: BTreeMap<OperationCode, String>,
    /// What the pair is made of; empty if it was not stated.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub materials: Vec<Material>,
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

#[cfg(feature = "zones")]
impl Job {
    /// The wait with a length that was noted last.
    pub(super) fn wait(&self) -> Option<RunningWait<'_>> {
        let (ends, operation) = self.dry.as_ref()?;
        Some(RunningWait {
            ends: *ends,
            operation: operation.as_deref(),
            dries: self.dries.as_deref(),
        })
    }

    /// How much of the usual work on a pair an operation is, as a factor.
    pub(super) fn amount(&self, code: &str) -> f64 {
        let percent = self.amounts.get(code).copied().unwrap_or(USUAL_AMOUNT);
        f64::from(percent) / f64::from(USUAL_AMOUNT)
    }
}

impl Job {
    /// When the wait that was noted last ends or ended.
    pub fn dry_from(&self) -> Option<UnixMs> {
        self.dry.as_ref().map(|(end, _)| *end)
    }
}
