//! What somebody decides about the run on top of the Bench: to begin it, to leave it for now, or to go on after they
//! were called away. It is noted on the jobs, so that every device plans with it.

use std::collections::BTreeSet;

use leptos::task::spawn_local;
use shared::log::fold::{JobState, PairHistory};
use shared::log::{Draft, SubjectId, UnixMs, inserted};

use crate::device::Phone;
use crate::device::lazy::lazy;
use crate::selection::Selection;
use crate::session::Session;
use app_core::browser::clock::now;
use app_core::commands::run;
use app_core::stations::{StationRow, StationSection};

/// For how long jobs are put aside, in ms, unless somebody takes them up sooner.
const ASIDE_MS: i64 = 3 * 3_600_000;

/// A decision about a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RunDecision {
    /// Somebody begins it.
    Begin,
    /// It is left out of the plan for some hours.
    PutAside,
    /// Somebody was called away from it: the plan counts from now, with all jobs that are put aside.
    GoOn,
}

impl RunDecision {
    /// The notice that it was noted.
    fn said(self) -> &'static str {
        match self {
            RunDecision::Begin => words::bench::run_is_begun(),
            RunDecision::PutAside => words::bench::put_off(),
            RunDecision::GoOn => words::bench::planned_from_now(),
        }
    }
}

/// Notes a decision about the run of these jobs. `shop` is all that is in the shop.
pub(super) fn decide(
    (session, bench): (Session, Selection),
    decision: RunDecision,
    run: Vec<SubjectId>,
    shop: &[StationSection],
) {
    let concerned = |row: &&StationRow| decision == RunDecision::GoOn || run.contains(&row.job.id);
    let rows = shop.iter().flat_map(|section| &section.rows).filter(concerned);
    let pairs: BTreeSet<SubjectId> = inserted(rows.map(|row| row.pair));
    let pairs: Vec<_> = pairs.into_iter().collect();
    spawn_local(async move {
        let Some(phone) = session.phone() else { return };
        match noted(phone, decision, run, pairs).await {
            Ok(drafts) => bench.act(drafts, decision.said()),
            Err(error) => session.complain(error),
        }
    });
}

lazy! {
    /// The drafts for that. They need the states of the jobs of these pairs, which nothing else on the Bench reads.
    fn noted(phone: Phone, decision: RunDecision, jobs: Vec<SubjectId>, pairs: Vec<SubjectId>) -> Vec<Draft> {
        let histories = phone.pair_histories(&pairs).await?;
        let in_run = of_jobs(&histories).filter(|(job, _)| jobs.contains(job));
        let now = now();
        Ok(match decision {
            RunDecision::Begin => run::begin(in_run, now),
            RunDecision::PutAside => run::put_aside(in_run, UnixMs(now.0 + ASIDE_MS)),
            RunDecision::GoOn => {
                let mut drafts = run::interrupt(in_run, now);
                drafts.extend(run::take_up(of_jobs(&histories), now));
                drafts
            }
        })
    }
}

/// The jobs for which these pairs are in the shop.
fn of_jobs(histories: &[PairHistory]) -> impl Iterator<Item = (SubjectId, &JobState)> {
    let jobs = histories.iter().flat_map(|history| &history.jobs);
    let here = jobs.filter(|(_, state)| state.handed_over.is_none());
    here.map(|(job, state)| (*job, state))
}
