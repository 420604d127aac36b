//! A run of the camera: several pairs photographed one after another.

use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::{use_navigate, use_query_map};
use shared::log::SubjectId;

use super::timer::CameraTimer;
use crate::screens::job::use_subject;

/// The jobs named in the address (`?run=a,b,c`), and which of them is photographed now.
#[derive(Clone, Copy)]
pub struct CameraRun {
    jobs: Memo<Vec<SubjectId>>,
    at: Signal<Option<SubjectId>>,
}

impl CameraRun {
    /// Follows the address.
    pub fn follow() -> Self {
        let query = use_query_map();
        let jobs = Memo::new(move |_| {
            let run = query.read().get("run").unwrap_or_default();
            run.split(',').filter_map(|id| id.parse().ok()).collect()
        });
        Self {
            jobs,
            at: use_subject("job"),
        }
    }

    /// The jobs of the run; empty for a single pair.
    pub fn jobs(self) -> Vec<SubjectId> {
        self.jobs.get()
    }

    /// The position in the run and its length, counted from 1; `None` for a single pair or one that is not in the run.
    pub fn position(self) -> Option<(usize, usize)> {
        let (jobs, at) = (self.jobs.get(), self.at.get()?);
        let index = jobs.iter().position(|job| *job == at)?;
        Some((index + 1, jobs.len()))
    }

    /// Whether other pairs are photographed besides this one.
    pub fn is_of_several(self) -> bool {
        self.position().is_some_and(|(_, of)| of > 1) || self.next().is_some()
    }

    /// The pair after this one; the first of the run if this one is not in it.
    pub fn next(self) -> Option<SubjectId> {
        let done = self.position().map_or(0, |(position, _)| position);
        self.jobs.get().get(done).copied()
    }
}

/// A function that goes on to another pair and run. The screen stays mounted, so that photographs being saved remain in
/// view.
pub fn use_turn() -> impl Fn(SubjectId, Vec<SubjectId>) + Clone {
    let (navigate, query) = (use_navigate(), use_query_map());
    move |job, run| {
        let mut address = format!("/camera/{job}?run=");
        for (at, one) in run.iter().enumerate() {
            address.push_str(if at > 0 { "," } else { "" });
            address.push_str(&one.to_string());
        }
        if let Some(shows) = query.read_untracked().get("shows") {
            address.push_str("&shows=");
            address.push_str(&shows);
        }
        let options = NavigateOptions {
            replace: true,
            scroll: false,
            ..NavigateOptions::default()
        };
        navigate(&address, options);
    }
}

/// A function that goes on once a pair is photographed: to the next one of the run, else to the Bench.
pub fn use_onward(run: CameraRun) -> impl Fn() + Clone {
    let (turn, navigate) = (use_turn(), use_navigate());
    move || match untrack(|| run.next()) {
        Some(next) => turn(next, untrack(|| run.jobs())),
        None => navigate("/", NavigateOptions::default()),
    }
}

/// The way on without a photograph: to the next pair, else to the Bench. Nothing where there is neither a run nor a pair
/// that was just taken in.
#[component]
pub fn Runs(
    /// The run.
    run: CameraRun,
    /// The timer, which is stopped when the pair changes because it was started for the former one.
    timer: CameraTimer,
    /// Whether the pairs are photographed as they were brought.
    brought: Signal<bool>,
) -> impl IntoView {
    let turn = use_turn();
    move || {
        if let Some(next) = run.next() {
            let turn = turn.clone();
            let go = move |_| {
                timer.stop();
                turn(next, run.jobs());
            };
            return view! { <button class="bench quiet onward" on:click=go>{words::camera::next_pair()}</button> }
                .into_any();
        }
        let through = brought.get() || run.position().is_some();
        through
            .then(|| view! { <a class="button bench quiet onward" href="/">{words::camera::done_to_bench()}</a> })
            .into_any()
    }
}
