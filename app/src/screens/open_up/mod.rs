//! Opening up: noting what could not be seen before, part by part.

mod drawing;
mod finding;
mod key;
mod noted;

use leptos::prelude::*;
use shared::trade::component::Component;

use super::camera::Back;
use super::job::{JobLife, pair_head, use_job};
use crate::parts::{UndoLast, pair_materials};
use crate::selection::UndoScope;

pub(super) use drawing::{BELOW, Drawn, SIDE};
use finding::{Finding, Tapped};
use noted::{BuiltLike, noted};

/// The drawing of a shoe, and what is noted about this one.
#[component]
pub fn OpenUp() -> impl IntoView {
    let found = use_job();
    let tapped = Tapped::new();
    // Out here, because what is below is drawn anew after each tap.
    let all_materials = RwSignal::new(false);
    move || {
        Some(match found.get()? {
            Some(life) => opened(life, tapped, all_materials).into_any(),
            None => view! { <h1>{words::open_up::screen_name()}</h1> <p>{words::work::no_such_job()}</p> }
                .into_any(),
        })
    }
}

fn opened(life: JobLife, tapped: Tapped, all_materials: RwSignal<bool>) -> impl IntoView {
    let job = life.job;
    let made_of = pair_materials(life.life.id, &life.life.pair, all_materials);
    let state = life.state().cloned().unwrap_or_default();
    let parts: Vec<Component> = state
        .damage
        .iter()
        .map(|item| Component::from(item.body.part.as_str()))
        .collect();
    let marked = Signal::derive(move || parts.clone());
    view! {
        {pair_head(words::open_up::screen_name(), &life)}
        <p>{words::open_up::tap_the_part()}</p>
        <div class="drawings">
            <Drawn drawing=&SIDE chosen=tapped.part noted=marked mark=words::open_up::something_is_noted()/>
            <Drawn drawing=&BELOW chosen=tapped.part noted=marked mark=words::open_up::something_is_noted()/>
        </div>
        <PartNames chosen=tapped.part names=Component::KNOWN/>
        <UndoLast of=Some(UndoScope::Of(job))/>
        {noted(job, &state)}
        <BuiltLike job state/>
        <section class="card">{made_of}</section>
        <p class="row ways">
            <a class="button bench" href=Back::OpenUp.camera(job, None, None)>{words::work::camera()}</a>
            <a class="button bench" href=format!("/ask/{job}")>{words::open_up::ask_the_customer()}</a>
            <a class="button bench" href=format!("/job/{job}")>{words::work::screen_name()}</a>
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
            on:click=move |_| open.update(|open| *open = !*open)>{words::open_up::every_part_by_name()}</button>
        {names}
    }
}
