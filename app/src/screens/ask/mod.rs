//! Asking the customer about a finding: one picture, one text, and a few choices with prices.

mod compose;
mod open;
mod way;

use std::rc::Rc;

use leptos::prelude::*;
use leptos_router::hooks::use_query_map;
use shared::log::EntryId;
use shared::log::fold::{JobState, Summary, bench};
use shared::shelf::Materials;

use super::camera::Back;
use super::job::{JobLife, pair_head, use_job};
use super::pair::lines;
use crate::parts::UndoLast;
use crate::selection::UndoScope;
use crate::session::use_live_query;
use app_core::commands::inside::{is_asked, unasked};

use compose::{asked_about, compose};
use open::open;

/// The questions of a job: the open ones with their possible outcomes, the answered ones, and the form for the next.
#[component]
pub fn Ask() -> impl IntoView {
    let found = use_job();
    let query = use_query_map();
    let about = move || query.read().get("damage").and_then(|text| text.parse().ok());
    // What material costs is read once: what is typed stays when the shelf changes.
    let materials = use_live_query(|phone| async move { Ok(Rc::new(phone.materials().await?)) });
    let read = Memo::new(move |_| materials.get().is_some());
    move || {
        if !read.get() {
            return None;
        }
        let materials = materials.get_untracked()?;
        Some(match found.get()? {
            Some(life) => asked(&life, about(), &materials).into_any(),
            None => view! { <h1>{words::ask::ask_the_customer()}</h1> <p>{words::ask::no_such_job()}</p> }
                .into_any(),
        })
    }
}

fn asked(life: &JobLife, about: Option<EntryId>, materials: &Materials) -> impl IntoView + use<> {
    let summary = Summary::of(&life.life);
    let job = life.job;
    let state = life.state().cloned().unwrap_or_default();
    let questions = bench::open_questions(&state).map(|question| open(job, question, &state));
    let questions = questions.collect_view();
    let answered = answered(&state);
    // Questions that were asked come first. The form for the next one is folded away while a question is open, and
    // after a question unless some damage has not been asked about.
    let to_ask = about.is_some_and(|about| !is_asked(&state, about)) || unasked(&state).next().is_some();
    let settled = bench::open_questions(&state).next().is_some() || !state.questions.is_empty() && !to_ask;
    let next = compose(life, &summary, about, materials);
    let next = if settled {
        view! { <details class="card"><summary>{words::ask::ask_something_else()}</summary>{next}</details> }
            .into_any()
    } else {
        next.into_any()
    };
    let damage = asked_about(&state, about).map(|item| item.entry);
    let camera = Back::Ask.camera(job, damage.map(|_| "damage"), damage);
    view! {
        {pair_head(words::ask::ask_about(), life)}
        {questions}
        {answered}
        <UndoLast of=Some(UndoScope::Of(job))/>
        {next}
        <p class="row ways">
            <a class="button bench" href=camera>{words::ask::camera()}</a>
            <a class="button bench" href=format!("/open/{job}")>{words::ask::opening_up()}</a>
            <a class="button bench" href=format!("/job/{job}")>{words::ask::work()}</a>
        </p>
    }
}

/// The questions that have been answered for good, the latest first; nothing if there is none.
fn answered(job: &JobState) -> Option<impl IntoView + use<>> {
    let open: Vec<EntryId> = bench::open_questions(job).map(|item| item.entry).collect();
    let settled = job
        .questions
        .iter()
        .rev()
        .filter(|item| !open.contains(&item.entry));
    let settled: Vec<_> = settled
        .map(|item| view! { <li>{lines::question(job, item)}</li> })
        .collect();
    (!settled.is_empty()).then(|| {
        view! { <section class="card" aria-label=words::ask::answered()><h2>{words::ask::answered()}</h2><ul class="plain">{settled}</ul></section> }
    })
}
