//! The steps done, and what has to be made again.

use leptos::prelude::*;
use shared::log::body::Redo;
use shared::log::fold::{Item, bench};
use shared::log::{EntryId, SubjectId};
use shared::price::records::JobFacts;
use shared::trade::cement_guide::OwnCements;

use super::{WorkJob, material, state_of, step_cement, took};
use crate::parts::{AddNote, note_list, on_day};
use crate::selection::{Selection, use_selection};
use crate::shelf::use_recent_uses;
use crate::shop::use_shop;
use app_core::commands;
use app_core::commands::notes::{NoteTarget, on_entry};

/// The materials most often wasted.
fn often_scrap() -> [&'static str; 6] {
    [
        words::work::leather(),
        words::work::rubber(),
        words::work::top_pieces(),
        words::work::lining(),
        words::work::thread(),
        words::work::a_zip(),
    ]
}

/// The steps, latest first, each with the notes on it; folded until wanted.
#[component]
pub fn DoneSteps(known: WorkJob) -> impl IntoView {
    let any = Memo::new(move |_| {
        known.with(|known| {
            known
                .as_ref()
                .and_then(state_of)
                .is_some_and(|(_, state)| !state.steps.is_empty())
        })
    });
    // The fold stays as it is while the steps are drawn anew.
    view! {
        <Show when=move || any.get()>
            <section aria-label=words::work::steps_done()>
                <details><summary>{words::work::steps_in_detail()}</summary><EachStep known/></details>
            </section>
        </Show>
    }
}

#[component]
fn EachStep(known: WorkJob) -> impl IntoView {
    let (workbench, shop) = (use_selection(), use_shop());
    let inferred_minutes = took::minutes(known);
    let recent_uses = use_recent_uses();
    let unfolded_step = RwSignal::new(None);
    move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        let facts = JobFacts::of(job, state, None, &known.life.pair);
        let held = StoredValue::new((known.clone(), facts));
        // Minutes, materials and cement of a step, apart from its row: they are known late, and must not draw a form
        // anew in which somebody writes.
        let took = move |entry: EntryId, minutes: bool| {
            let inferred = inferred_minutes.get().unwrap_or_default();
            let uses = recent_uses.get().flatten();
            held.with_value(|(known, facts)| {
                let (job, state) = state_of(known)?;
                let mut steps = state.steps.iter().zip(&facts.steps);
                let (step, fact) = steps.find(|(step, _)| step.entry == entry)?;
                let minutes = minutes.then(|| took::took(job, state, step, &inferred));
                let materials = uses
                    .as_deref()
                    .and_then(|uses| material::taken(job, state, (step, fact), uses, unfolded_step));
                let cement =
                    step_cement::named(job, state, step, &OwnCements::of(&shop.state()), unfolded_step);
                Some(view! { {minutes} {materials} {cement} })
            })
        };
        let rows = state.steps.iter().rev().map(|step| {
            // The inferred minutes are of all steps of an operation together, so they are shown at its latest step
            // only.
            let latest = state.steps.iter().rev().find(|one| one.body.operation == step.body.operation);
            let told = latest.is_some_and(|one| one.entry == step.entry) || bench::noted_minutes(state, step).is_some();
            let redo = state.redone.iter().find(|redo| redo.body.step == step.entry);
            let who = step.person.and_then(|person| shop.name_of(person));
            let name = bench::name_of_step(state, &step.body);
            let notes = on_entry(state, step.entry).collect();
            let notes = note_list(notes, job, words::parts::notes_on(&name));
            let entry = step.entry;
            let on = NoteTarget::job(job).entry(entry);
            view! {
                <li class="left-row">
                    <span><strong>{name.clone()}</strong>" "<span class="quiet">{on_day(step.at.utc)}" "{who}</span></span>
                    {move || took(entry, told && !shop.helper())}
                    {(!step.body.note.is_empty()).then(|| step.body.note.clone())}
                    {notes}
                    <AddNote on about=name.clone()/>
                    {match redo {
                        Some(redo) => made_again(redo).into_any(),
                        None => again(workbench, job, step.entry, &name).into_any(),
                    }}
                </li>
            }
        });
        Some(view! { <ul class="plain">{rows.collect_view()}</ul> })
    }
}

fn made_again(redo: &Item<Redo>) -> impl IntoView + use<> {
    let said = match redo.body.scrap.as_str() {
        "" => words::work::to_be_made_again().to_owned(),
        scrap => words::work::to_be_made_again_with_scrap(scrap),
    };
    view! { <span class="quiet">{said}</span> }
}

/// Asks what was wasted with a step, whose name is `name`; each answer is one tap, the likeliest (nothing) first.
fn again(bench: Selection, job: SubjectId, entry: EntryId, name: &str) -> impl IntoView + use<> {
    let choice = move |label: &'static str, scrap: &'static str, said: String| {
        let go = move |_| bench.act(vec![commands::redo(job, entry, scrap)], said.clone());
        view! { <button class="bench quiet" aria-label=words::work::scrap_is(label) on:click=go>{label}</button> }
    };
    let said = words::work::step_is_to_be_made_again(name);
    let choices = often_scrap().map(|scrap| choice(scrap, scrap, said.clone()));
    view! {
        <details>
            <summary aria-label=words::work::make_step_again(name)>{words::work::make_again()}</summary>
            <p>{words::work::what_is_scrap()}</p>
            <div class="choices">{choice(words::work::nothing_is_scrap(), "", said)} {choices.into_iter().collect_view()}</div>
        </details>
    }
}
