//! The steps done, and what has to be made again.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::{Redo, Step};
use shared::log::fold::{Item, bench};
use shared::trade::operations;

use super::{WorkJob, state_of, took};
use crate::parts::on_day;
use crate::selection::{Selection, use_selection};
use crate::shop::use_shop;
use app_core::commands;

/// The materials most often wasted.
const SCRAP: [&str; 6] = ["Leather", "Rubber", "Top pieces", "Lining", "Thread", "A zip"];

/// The steps, latest first.
#[component]
pub fn DoneSteps(known: WorkJob) -> impl IntoView {
    let (workbench, shop) = (use_selection(), use_shop());
    let inferred_minutes = took::minutes(known);
    move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        let inferred_minutes = inferred_minutes.get().unwrap_or_default();
        let rows = state.steps.iter().rev().map(|step| {
            // The inferred minutes are of all steps of an operation together, so they are shown at its latest step
            // only.
            let latest = state.steps.iter().rev().find(|one| one.body.operation == step.body.operation);
            let told = latest.is_some_and(|one| one.entry == step.entry) || bench::noted_minutes(state, step).is_some();
            let redo = state.redone.iter().find(|redo| redo.body.step == step.entry);
            let who = step.person.and_then(|person| shop.name_of(person));
            view! {
                <li class="left-row">
                    <span><strong>{operations::name(&step.body.operation).to_owned()}{step.body.side.after()}</strong>
                        " "<span class="quiet">{on_day(step.at.utc)}" "{who}</span></span>
                    {(told && !shop.helper()).then(|| took::took(job, state, step, &inferred_minutes))}
                    {(!step.body.note.is_empty()).then(|| step.body.note.clone())}
                    {match redo {
                        Some(redo) => made_again(redo).into_any(),
                        None => again(workbench, job, step).into_any(),
                    }}
                </li>
            }
        });
        let rows = rows.collect_view();
        (!state.steps.is_empty()).then(|| {
            view! {
                <section class="card" aria-label="Done">
                    <h2>"Done"</h2>
                    <ul class="plain">{rows}</ul>
                </section>
            }
        })
    }
}

fn made_again(redo: &Item<Redo>) -> impl IntoView + use<> {
    let scrap = (!redo.body.scrap.is_empty()).then(|| format!(" Scrap: {}.", redo.body.scrap));
    view! { <span class="quiet">"To be made again."{scrap}</span> }
}

/// Asks what was wasted; each answer is one tap, the likeliest (nothing) first.
fn again(bench: Selection, job: SubjectId, step: &Item<Step>) -> impl IntoView + use<> {
    let name = operations::name(&step.body.operation).to_owned();
    let entry = step.entry;
    let choice = move |words: &'static str, scrap: &'static str, said: String| {
        let go = move |_| bench.act(vec![commands::redo(job, entry, scrap)], said.clone());
        view! { <button class="bench quiet" aria-label=format!("Scrap: {words}") on:click=go>{words}</button> }
    };
    let said = format!("{name} is to be made again.");
    let choices = SCRAP.map(|scrap| choice(scrap, scrap, said.clone()));
    view! {
        <details>
            <summary aria-label=format!("{name}: make again")>"Make again"</summary>
            <p>"What was cut or used twice, and so is scrap?"</p>
            <div class="choices">{choice("Nothing", "", said)} {choices.into_iter().collect_view()}</div>
        </details>
    }
}
