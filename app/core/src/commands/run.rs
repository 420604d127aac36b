//! What somebody decides about the jobs of a run: it is begun, they were called away from it, or the jobs are put
//! aside.
//!
//! Each is a plain field of the jobs that holds a time, so that every device plans with it.

use serde_json::Value;
use shared::log::body::field;
use shared::log::fold::JobState;
use shared::log::{Draft, Subject, SubjectId, SubjectKind, UnixMs};

use super::shop::set_value;

/// Notes that somebody has begun the run of these jobs.
pub fn begin<'a>(jobs: impl IntoIterator<Item = (SubjectId, &'a JobState)>, at: UnixMs) -> Vec<Draft> {
    noted(jobs, field::RUN_BEGUN, at)
}

/// Notes that somebody was called away from the run of these jobs.
pub fn interrupt<'a>(jobs: impl IntoIterator<Item = (SubjectId, &'a JobState)>, at: UnixMs) -> Vec<Draft> {
    noted(jobs, field::RUN_INTERRUPTED, at)
}

/// Leaves these jobs out of the bench's runs until a time.
pub fn put_aside<'a>(jobs: impl IntoIterator<Item = (SubjectId, &'a JobState)>, until: UnixMs) -> Vec<Draft> {
    noted(jobs, field::PUT_ASIDE, until)
}

/// Ends that for those of these jobs that are put aside at a time.
pub fn take_up<'a>(jobs: impl IntoIterator<Item = (SubjectId, &'a JobState)>, at: UnixMs) -> Vec<Draft> {
    let until = |state: &JobState| state.details.number(field::PUT_ASIDE);
    let aside = jobs.into_iter().filter(|(_, state)| until(state) > Some(at.0));
    noted(aside, field::PUT_ASIDE, UnixMs(0))
}

/// Sets a field of these jobs to a time, in place of the values that this device knows.
fn noted<'a>(
    jobs: impl IntoIterator<Item = (SubjectId, &'a JobState)>,
    field: &str,
    at: UnixMs,
) -> Vec<Draft> {
    let drafts = jobs.into_iter().filter_map(|(job, state)| {
        let job = Subject::new(SubjectKind::Job, job);
        set_value(job, &state.details, field, Value::from(at.0))
    });
    drafts.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::scene::{details, subject};
    use shared::log::body::{Body, Detail};

    const NOW: UnixMs = UnixMs(1_000);

    /// A job with these plain fields.
    fn job(fields: &[(&str, Value)]) -> JobState {
        JobState {
            details: details(fields),
            ..JobState::default()
        }
    }

    /// The job, field and time of each draft.
    fn said(drafts: &[Draft]) -> Vec<(SubjectId, &str, i64)> {
        let said = drafts.iter().map(|draft| match &draft.body {
            Body::Detail(Detail { field, value }) => {
                (draft.subject.id, field.as_str(), value.as_i64().expect("a time"))
            }
            other => panic!("not a plain field: {other:?}"),
        });
        said.collect()
    }

    #[test]
    fn a_decision_is_noted_on_every_job_and_replaces_the_one_before() {
        let jobs = [job(&[]), job(&[(field::RUN_BEGUN, 7.into())])];
        let named = || [(subject(1), &jobs[0]), (subject(2), &jobs[1])];
        let begun = begin(named(), NOW);
        let of = |field| [(subject(1), field, NOW.0), (subject(2), field, NOW.0)];
        assert_eq!(said(&begun), of(field::RUN_BEGUN));
        assert!(begun[0].over.is_empty());
        assert_eq!(begun[1].over, jobs[1].details.over(field::RUN_BEGUN));
        assert_eq!(begun[1].over.len(), 1);
        assert_eq!(said(&interrupt(named(), NOW)), of(field::RUN_INTERRUPTED));
        assert_eq!(said(&put_aside(named(), NOW)), of(field::PUT_ASIDE));
    }

    #[test]
    fn only_what_is_put_aside_is_taken_up_again() {
        let until = |at: i64| job(&[(field::PUT_ASIDE, at.into())]);
        let jobs = [job(&[]), until(0), until(NOW.0), until(NOW.0 + 1)];
        let named = jobs.iter().enumerate().map(|(n, job)| (subject(n as u128), job));
        assert_eq!(said(&take_up(named, NOW)), [(subject(3), field::PUT_ASIDE, 0)]);
    }
}
