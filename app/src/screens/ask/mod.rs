//! Asking the customer about something that turned up: one picture, one text, a few priced choices.

mod compose;
mod open;
mod way;

use leptos::prelude::*;
use leptos_router::hooks::use_query_map;
use shared::log::fold::{Summary, bench};

use super::job::{JobLife, pair_head, use_job};
use crate::parts::UndoLast;

use compose::compose;
use open::open;

/// The questions of a job: those that are open, with what came of them, and the next one.
#[component]
pub fn Ask() -> impl IntoView {
    let found = use_job();
    let query = use_query_map();
    let about = move || query.read().get("damage").and_then(|text| text.parse().ok());
    move || {
        Some(match found.get()? {
            Some(life) => asked(&life, about()).into_any(),
            None => {
                view! { <h1>"Ask the customer"</h1> <p>"There is no such job on this device."</p> }.into_any()
            }
        })
    }
}

fn asked(life: &JobLife, about: Option<shared::log::EntryId>) -> impl IntoView + use<> {
    let summary = Summary::of(&life.life);
    let job = life.job;
    let state = life.state().cloned().unwrap_or_default();
    let questions = bench::open_questions(&state).map(|question| open(job, question, &state));
    let questions = questions.collect_view();
    // One thing at a time: what was asked comes first, the next question is folded away.
    let next = compose(life, &summary, about);
    let next = match bench::open_questions(&state).next() {
        Some(_) => view! { <details><summary>"Ask something else"</summary>{next}</details> }.into_any(),
        None => next.into_any(),
    };
    let camera = about.map(|damage| format!("/camera/{job}?shows=damage&of={damage}"));
    let camera = camera.unwrap_or_else(|| format!("/camera/{job}"));
    view! {
        {pair_head("Ask about", life)}
        {questions}
        <UndoLast on=Some(job)/>
        {next}
        <p class="row ways">
            <a class="button bench" href=camera>"Camera"</a>
            <a class="button bench" href=format!("/open/{job}")>"Opening up"</a>
            <a class="button bench" href=format!("/job/{job}")>"Work"</a>
        </p>
    }
}
