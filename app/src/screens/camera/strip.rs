//! The latest photographs, and moving one to another pair: tap the photograph, then the pair.

use leptos::prelude::*;

use super::run::CameraRun;
use super::visit::{TakenPhoto, Visit};
use crate::parts::Face;
use crate::session::use_live_query;
use app_core::stations::{StationRow, in_shop};

/// The latest photographs of this visit, latest first; a tap on one asks which pair it belongs to.
#[component]
pub fn Strip(visit: Visit, run: CameraRun) -> impl IntoView {
    let chosen = RwSignal::new(None::<TakenPhoto>);
    let photo = move |one: TakenPhoto| {
        let label = words::camera::move_photograph(one.number, &one.name);
        let (thumb, job, name) = (one.item.body.thumb.sha256.clone(), one.job, one.name.clone());
        view! {
            <button class="bench quiet" aria-label=label on:click=move |_| chosen.set(Some(one.clone()))>
                <Face of=Some(thumb) on=Some(job) alt=""/>
                <b>{name}</b>
            </button>
        }
    };
    // Photographs that stay are not redrawn, because loading their pictures would delay the next photograph.
    view! {
        <div class="strip" aria-label=words::camera::last_photographs() role="group">
            <For each=move || visit.taken().get() key=|one| one.item.entry let:one>{photo(one)}</For>
        </div>
        {move || chosen.get().map(|one| view! { <MoveTo visit run one chosen/> })}
    }
}

/// The pairs it can be moved to: those of the run first, then all others in the shop.
#[component]
fn MoveTo(
    visit: Visit,
    run: CameraRun,
    one: TakenPhoto,
    chosen: RwSignal<Option<TakenPhoto>>,
) -> impl IntoView {
    let pairs = use_live_query(|phone| async move { Ok(phone.in_shop().await?) });
    let from = one.job;
    let title = words::camera::ask_which_pair(one.number, &one.name);
    let away = one.clone();
    let take_back = move |_| {
        chosen.set(None);
        visit.take_back(&away);
    };
    let targets = move || {
        let rows: Vec<StationRow> = in_shop(pairs.get()?).filter(|row| row.job.id != from).collect();
        let jobs = run.jobs();
        let of_run = |row: &StationRow| jobs.contains(&row.job.id);
        let (first, rest): (Vec<StationRow>, Vec<StationRow>) = rows.into_iter().partition(of_run);
        let all = first.into_iter().chain(rest);
        Some(
            all.map(|row| target(visit, one.clone(), row, chosen))
                .collect_view(),
        )
    };
    view! {
        <div class="move-to" role="group" aria-label=title>
            <p>{title.clone()}</p>
            <div class="choices">{targets}</div>
            <div class="row">
                <button class="bench" on:click=move |_| chosen.set(None)>{words::camera::right_where_it_is()}</button>
                <button class="bench quiet" on:click=take_back>{words::camera::undo_it()}</button>
            </div>
        </div>
    }
}

fn target(
    visit: Visit,
    one: TakenPhoto,
    row: StationRow,
    chosen: RwSignal<Option<TakenPhoto>>,
) -> impl IntoView {
    let (face, job, name) = (row.face.clone(), row.job.id, row.name().to_owned());
    let go = move |_| {
        chosen.set(None);
        visit.move_to(one.clone(), &row);
    };
    view! {
        <button class="bench quiet" aria-label=words::camera::move_to(&name) on:click=go>
            <Face of=face on=Some(job) alt=""/>
            <b>{name.clone()}</b>
        </button>
    }
}
