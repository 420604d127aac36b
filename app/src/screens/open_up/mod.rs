//! Opening up: noting what could not be seen before, part by part.

mod drawing;
mod finding;
mod key;
mod noted;

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::trade::component::Component;

use super::camera::Back;
use super::job::{JobLife, pair_head, use_job};
use crate::parts::{KeepPart, UndoLast, UnfoldedNote, pair_materials};
use crate::selection::UndoScope;

pub(super) use drawing::ShoeTakenApart;
use finding::{Finding, Tapped};
use noted::{BuiltLike, Noted};

/// The drawing of a shoe, and what is noted about this one.
#[component]
pub fn OpenUp() -> impl IntoView {
    UnfoldedNote::provide();
    let found = use_job();
    let missing = move || matches!(found.get(), Some(None));
    let known = Memo::new(move |_| found.get().flatten());
    let there = Memo::new(move |_| known.with(Option::is_some));
    view! {
        <Show when=missing><h1>{words::open_up::screen_name()}</h1> <p>{words::work::no_such_job()}</p></Show>
        <Show when=move || there.get()><Opened known/></Show>
    }
}

/// The parts of the screen. Only what a save changes is drawn anew after it: forms stay, with what is written in them.
#[component]
fn Opened(
    /// The job in the address; changes only when an entry about it or its pair does.
    known: Memo<Option<JobLife>>,
) -> impl IntoView {
    let tapped = Tapped::new();
    let all_materials = RwSignal::new(false);
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    let of = Signal::derive(move || job.get().map(UndoScope::Of));
    let marked =
        Signal::derive(move || known.with(|known| known.as_ref().map(noted_parts).unwrap_or_default()));
    let made_of = move || {
        let found = known.get()?;
        Some(pair_materials(found.life.id, &found.life.pair, all_materials))
    };
    let built = move || {
        let found = known.get()?;
        let (job, state) = (found.job, found.state().cloned().unwrap_or_default());
        Some(view! { <BuiltLike job state/> })
    };
    view! {
        {move || known.get().map(|found| pair_head(words::open_up::screen_name(), &found))}
        <p>{words::open_up::tap_the_part()}</p>
        <ShoeTakenApart chosen=tapped.part noted=marked mark=words::open_up::something_is_noted()/>
        <PartNames chosen=tapped.part names=Component::KNOWN/>
        <UndoLast of/>
        <Noted known/>
        {move || job.get().map(|job| view! { <KeepPart job/> })}
        {built}
        <section class="card">{made_of}</section>
        {move || job.get().map(ways)}
        <Finding tapped known/>
    }
}

/// The parts about which something is noted.
fn noted_parts(known: &JobLife) -> Vec<Component> {
    let damage = known.state().into_iter().flat_map(|state| &state.damage);
    damage
        .map(|item| Component::from(item.body.part.as_str()))
        .collect()
}

/// Links to other screens about the job.
fn ways(job: SubjectId) -> impl IntoView {
    view! {
        <p class="row ways">
            <a class="button bench" href=Back::OpenUp.camera(job, None, None)>{words::work::camera()}</a>
            <a class="button bench" href=format!("/ask/{job}")>{words::open_up::ask_the_customer()}</a>
            <a class="button bench" href=format!("/job/{job}")>{words::work::screen_name()}</a>
        </p>
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
