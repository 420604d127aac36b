//! Opening up: noting what could not be seen before, part by part.

mod drawing;
mod finding;
mod key;
mod noted;

use leptos::prelude::*;
use shared::trade::component::Component;

use super::camera::Back;
use super::job::{JobLife, pair_head, use_job};
use crate::parts::UndoLast;
use crate::selection::UndoScope;

pub(super) use drawing::{BELOW, Drawn, SIDE};
use finding::{Finding, Tapped};
use noted::{BuiltLike, noted};

/// The suffix of a marked part's accessible name.
const NOTED: &str = ", something is noted";

/// The drawing of a shoe, and what is noted about this one.
#[component]
pub fn OpenUp() -> impl IntoView {
    let found = use_job();
    let tapped = Tapped::new();
    move || {
        Some(match found.get()? {
            Some(life) => opened(life, tapped).into_any(),
            None => view! { <h1>"Opening up"</h1> <p>"There is no such job on this device."</p> }.into_any(),
        })
    }
}

fn opened(life: JobLife, tapped: Tapped) -> impl IntoView {
    let job = life.job;
    let state = life.state().cloned().unwrap_or_default();
    let parts: Vec<Component> = state
        .damage
        .iter()
        .map(|item| Component::from(item.body.part.as_str()))
        .collect();
    let marked = Signal::derive(move || parts.clone());
    view! {
        {pair_head("Opening up", &life)}
        <p>"Tap the part."</p>
        <div class="drawings">
            <Drawn drawing=&SIDE chosen=tapped.part noted=marked mark=NOTED/>
            <Drawn drawing=&BELOW chosen=tapped.part noted=marked mark=NOTED/>
        </div>
        <PartNames chosen=tapped.part names=Component::KNOWN/>
        <UndoLast of=Some(UndoScope::Of(job))/>
        {noted(job, &state)}
        <BuiltLike job state/>
        <p class="row ways">
            <a class="button bench" href=Back::OpenUp.camera(job, None, None)>"Camera"</a>
            <a class="button bench" href=format!("/ask/{job}")>"Ask the customer"</a>
            <a class="button bench" href=format!("/job/{job}")>"Work"</a>
        </p>
        <Finding tapped life/>
    }
}

/// Every part by name: for parts that are not on the drawings, and for people who prefer a list.
#[component]
pub(super) fn PartNames(
    /// The part that was tapped.
    chosen: RwSignal<Option<Component>>,
    /// Which parts there are.
    names: &'static [Component],
) -> impl IntoView {
    let open = RwSignal::new(false);
    let names = move || {
        let chips = names.iter().map(|part| {
            view! { <button class="chip" on:click=move |_| chosen.set(Some(part.clone()))>{part.words()}</button> }
        });
        open.get()
            .then(|| view! { <div class="chips">{chips.collect_view()}</div> })
    };
    view! {
        <button class="quiet" aria-expanded=move || if open.get() { "true" } else { "false" }
            on:click=move |_| open.update(|open| *open = !*open)>"Every part by name"</button>
        {names}
    }
}
