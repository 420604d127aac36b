//! Pairs that will be late unless something changes, and what would help them.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::SubjectId;
use shared::week::{Sentence, WeekPlan};

use crate::device::Phone;
use crate::device::lazy::lazy;
use crate::screens::job::{JobLife, of_job};
use crate::selection::{Selection, use_selection};
use crate::session::{Session, use_session};
use app_core::commands;
use shared::log::Draft;

/// The pairs at risk, and those that fit on no day.
#[component]
pub(super) fn Risks(told: Signal<WeekPlan>) -> impl IntoView {
    let list = |heading: &'static str, all: Vec<Sentence>| {
        (!all.is_empty()).then(|| {
            let names: Vec<&str> = all.iter().map(|said| said.name.as_str()).collect();
            let names = names.join(", ");
            view! {
                <details class="card risks">
                    <summary><strong>{heading}</strong>{names}</summary>
                    <ul class="plain">{all.iter().map(one).collect_view()}</ul>
                </details>
            }
        })
    };
    let easy = Memo::new(move |_| {
        told.with(|told| !told.order.is_empty() && told.risks.is_empty() && told.unplanned.is_empty())
    });
    let told = Memo::new(move |_| told.with(|told| (told.risks.clone(), told.unplanned.clone())));
    // One line is reserved even if there is nothing to show, so that nothing below moves.
    view! {
        <div class="risks-room">
            <Show when=move || easy.get()><p class="quiet">{words::bench::no_promised_day_is_missed()}</p></Show>
            {move || told.with(|(risks, _)| list(words::bench::at_risk(), risks.clone()))}
            {move || told.with(|(_, unplanned)| list(words::bench::not_planned(), unplanned.clone()))}
        </div>
    }
}

fn one(said: &Sentence) -> impl IntoView + use<> {
    let (bench, session) = (use_selection(), use_session());
    let job = said.job;
    let label = words::bench::do_this_pair_first(&said.name);
    let late = words::bench::pair_is_at_risk(&said.name);
    let first = said.first.then(|| {
        view! { <button class="bench" aria-label=label on:click=move |_| put_first(session, bench, vec![job], true)>{words::work::do_this_first()}</button> }
    });
    view! {
        <li class="row between">
            <span><a href=format!("/job/{job}") aria-label=late><strong class="tag">{said.name.clone()}</strong></a>" "{said.words.clone()}" "<span class="quiet">{said.help.clone()}</span></span>
            {first}
        </li>
    }
}

/// Puts jobs before all others in the plan, or back among them.
pub(in crate::screens) fn put_first(session: Session, bench: Selection, jobs: Vec<SubjectId>, first: bool) {
    spawn_local(async move {
        let Some(phone) = session.phone() else { return };
        let said = if first {
            words::bench::done_first_from_now_on()
        } else {
            words::bench::back_among_the_others()
        };
        match put(phone, jobs, first).await {
            Ok(drafts) => bench.act(drafts, said),
            Err(error) => session.complain(error),
        }
    });
}

lazy! {
    /// The drafts for that. They need the jobs' pair histories, which nothing else on the Bench reads.
    fn put(phone: Phone, jobs: Vec<SubjectId>, first: bool) -> Vec<Draft> {
        let mut drafts = Vec::new();
        for job in jobs {
            let found = of_job(&phone, job).await?;
            let state = found.as_ref().and_then(JobLife::state);
            drafts.extend(state.and_then(|state| commands::first(job, state, first)));
        }
        Ok(drafts)
    }
}
