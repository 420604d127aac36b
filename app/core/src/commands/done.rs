//! What was done on a job: as it was noted, as it was agreed, or as confirmed in the final check.

use shared::log::body::Checked;
use shared::log::fold::{JobState, bench};
use shared::trade::line_name;

/// How version 0.1.0 began the line of the final check that confirms work which was not noted.
const NOT_NOTED: &str = "Done, though not noted: ";

/// Operations that were done and need not be made again, each once, in the order they were done. If no step was noted,
/// or the final check confirms work that was not noted, the agreed operations are added.
pub(super) fn done(job: &JobState) -> Vec<&str> {
    if job.steps.is_empty() || vouched(job) {
        return done_or_agreed(job);
    }
    once(bench::done(job).map(|step| step.body.operation.as_str()))
}

/// Operations that were done, then those agreed and not skipped, each once.
pub(super) fn done_or_agreed(job: &JobState) -> Vec<&str> {
    let steps = bench::done(job).map(|step| step.body.operation.as_str());
    let agreed = bench::kept(job).map(|line| line.body.operation.as_str());
    once(steps.chain(agreed))
}

fn once<'a>(codes: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let mut once = Vec::new();
    for code in codes {
        if !once.contains(&code) {
            once.push(code);
        }
    }
    once
}

/// Agreed lines that were neither noted as done nor skipped, in words; empty if there are none.
pub fn not_noted(job: &JobState) -> String {
    let left = bench::open_lines_in_order(job).map(|line| line_name(&line.body));
    left.collect::<Vec<_>>().join("; ")
}

/// Whether the final check confirms that work that was not noted is done.
pub(super) fn vouched(job: &JobState) -> bool {
    let confirms =
        |body: &Checked| body.vouched || body.ticked.iter().any(|line| line.starts_with(NOT_NOTED));
    job.checked
        .as_ref()
        .is_some_and(|slot| confirms(&slot.current.body))
}

/// The standing steps with the time of each (UTC milliseconds), from which [`final_check`](shared::trade::final_check)
/// counts hours.
pub fn step_times(job: &JobState) -> impl Iterator<Item = (&str, i64)> {
    bench::done(job).map(|step| (step.body.operation.as_str(), step.at.utc.0))
}
