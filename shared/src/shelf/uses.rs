//! What jobs have used, from what the books keep of them.

use serde::Deserialize;

use super::amount::thousandths;
use super::usual::UsualTakes;
use crate::log::body::OperationCode;
use crate::log::entry::{SubjectId, UnixMs};
use crate::price::records::{JobFacts, StepFact};

/// What one step has taken of one material.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialUse {
    /// The material, by its canonical id.
    pub material: SubjectId,
    /// How much, in thousandths of the unit, what was wasted included.
    pub thousandths: i64,
    /// When the step was made.
    pub at: UnixMs,
    /// The job.
    pub job: SubjectId,
    /// The operation.
    pub operation: OperationCode,
    /// What this comes to for a pair or, of work that is priced for each piece, for one piece, in thousandths.
    pub for_a_pair: i64,
}

/// What a job has used. Every step that stands counts, also one that was made again, whose material is scrap; a step
/// that was taken back is no longer among the facts, and so gives its material back.
pub fn uses(job: &JobFacts, usual: &UsualTakes<'_>) -> Vec<MaterialUse> {
    let mut all = Vec::new();
    used_by(job.job, &job.steps, usual, &mut all);
    all
}

fn used_by(job: SubjectId, steps: &[StepFact], usual: &UsualTakes<'_>, all: &mut Vec<MaterialUse>) {
    for step in steps {
        let taken = usual.taken(step).into_iter();
        all.extend(taken.map(|(material, amount)| MaterialUse {
            material,
            thousandths: amount,
            at: step.at.utc(),
            job,
            operation: step.operation.clone(),
            for_a_pair: thousandths(amount as f64 / 1_000.0 / step.takes()),
        }));
    }
}

/// A stored row of a pair, as far as it is needed here. To read all of its facts for the books would add much to the
/// wasm.
#[derive(Deserialize)]
struct UsingRow {
    facts: UsingPair,
}

/// Of the [`PairFacts`](crate::price::records::PairFacts) of such a row, what is needed here.
#[derive(Deserialize)]
struct UsingPair {
    #[serde(rename = "j", default)]
    jobs: Vec<UsingJob>,
}

/// Of the [`JobFacts`] of such a row, what is needed here.
#[derive(Deserialize)]
struct UsingJob {
    #[serde(rename = "j")]
    job: SubjectId,
    #[serde(rename = "s", default)]
    steps: Vec<StepFact>,
}

/// What the jobs of these pairs have used: the sum over the stored rows, each pair once. A row that cannot be read is
/// left out; it is folded afresh when the app has time.
pub fn uses_in_rows(rows: &[String], usual: &UsualTakes<'_>) -> Vec<MaterialUse> {
    let mut all = Vec::new();
    let read = rows
        .iter()
        .filter_map(|row| serde_json::from_str::<UsingRow>(row).ok());
    for job in read.flat_map(|row| row.facts.jobs) {
        used_by(job.job, &job.steps, usual, &mut all);
    }
    all
}
