//! What can be done with several picked pairs at once: the dock at the lower edge while pairs are picked.

use leptos::prelude::*;
use shared::log::body::{OperationCode, Wait};
use shared::trade::operations;

use super::risk::put_first;
use crate::parts::{Face, WaitChoice, camera_icon};
use crate::selection::{Selection, use_selection};
use crate::session::use_session;
use app_core::commands;
use app_core::stations::{StationRow, StationSection};
use shared::log::Draft;

/// The rows of the picked pairs, in the order of picking, without pairs that have left the shop meanwhile.
pub(super) fn picked_rows(
    bench: Selection,
    shop: Memo<Option<Vec<StationSection>>>,
) -> Signal<Vec<StationRow>> {
    Signal::derive(move || {
        let shop = shop.get().unwrap_or_default();
        let all = || shop.iter().flat_map(|section| &section.rows);
        let picked = bench.picked().get();
        let found = picked
            .iter()
            .filter_map(|job| all().find(|row| row.job.id == *job));
        found.cloned().collect::<Vec<StationRow>>()
    })
}

/// The picked pairs, what is done with them most, and behind "More" the rest.
#[component]
pub(super) fn PickedBar(
    /// Their rows.
    rows: Signal<Vec<StationRow>>,
) -> impl IntoView {
    let bench = use_selection();
    let (more, waiting) = (RwSignal::new(false), RwSignal::new(false));
    let start = Callback::new(move |chosen: Wait| {
        waiting.set(false);
        more.set(false);
        let rows = rows.get_untracked();
        bench.act(waits(&rows, &chosen), words::bench::these_wait(rows.len()));
    });
    let at_hand = Signal::derive(move || rows.with(|rows| at_hand(rows)));
    let face = |row: StationRow| {
        let name = row.name().to_owned();
        view! { <li><Face of=row.face on=Some(row.job.id) alt="" goods=row.goods/><strong>{name}</strong></li> }
    };
    view! {
        <div class="picked-bar">
            // Scrolls sideways, also by keys.
            <ul class="plain picked-faces" tabindex="0" aria-label=words::bench::picked_pairs()>
                <For each=move || rows.get() key=|row| (row.job.id, row.face.clone()) children=face/>
            </ul>
            <div class="actions dock-row">
                <a class="button bench quiet shoot-run" href=move || rows.with(|rows| run_address(rows))>
                    {camera_icon()}<span class="unseen">{move || words::bench::photograph_these(rows.with(Vec::len))}</span>
                </a>
                <button class="bench quiet" aria-expanded=move || more.get().to_string()
                    on:click=move |_| more.update(|open| *open = !*open)>{words::bench::more_for_these()}</button>
                <DoneForThese rows/>
            </div>
            <Show when=move || more.get()>
                <div class="picked-more">
                    <Show when=move || waiting.get()><WaitChoice operations=at_hand start/></Show>
                    <div class="actions">
                        <button class="bench quiet" aria-expanded=move || waiting.get().to_string()
                            on:click=move |_| waiting.update(|open| *open = !*open)>{words::bench::start_a_wait_for_all()}</button>
                        <First rows/>
                        <button class="bench quiet" on:click=move |_| bench.picked().set(Vec::new())>{words::bench::pick_none()}</button>
                    </div>
                </div>
            </Show>
        </div>
    }
}

/// Notes the next operation of each pair as done.
#[component]
fn DoneForThese(rows: Signal<Vec<StationRow>>) -> impl IntoView {
    let bench = use_selection();
    let open = move || rows.with(|rows| rows.iter().filter(|row| !row.job.left.is_empty()).count());
    let done = move |_| {
        let rows = rows.get_untracked();
        let drafts = commands::next_steps(rows.iter().map(|row| &row.job));
        let said = words::bench::noted_for_these(drafts.len(), &what_next(&rows));
        bench.act(drafts, said);
    };
    view! {
        <button class="bench go" disabled=move || open() == 0 on:click=done>
            {move || words::bench::done_for_these(open())}
            <small>{move || rows.with(|rows| what_next(rows))}</small>
        </button>
    }
}

/// Puts the pairs before all others in the plan; if all of them are there already, puts them back.
#[component]
fn First(rows: Signal<Vec<StationRow>>) -> impl IntoView {
    let (bench, session) = (use_selection(), use_session());
    let are = Memo::new(move |_| rows.with(|rows| rows.iter().all(|row| row.job.first)));
    let put = move |_| {
        let jobs = rows.with_untracked(|rows| rows.iter().map(|row| row.job.id).collect());
        put_first(session, bench, jobs, !are.get_untracked());
        // Their rows may have moved to another station.
        bench.picked().set(Vec::new());
    };
    view! { <button class="bench quiet" on:click=put>{move || if are.get() { words::bench::no_longer_first() } else { words::bench::do_first() }}</button> }
}

/// The operation that is next for all of them, or that they differ, in words.
fn what_next(rows: &[StationRow]) -> String {
    let next = || {
        rows.iter()
            .filter_map(|row| Some((&row.job, row.job.left.first()?)))
    };
    let Some((job, first)) = next().next() else {
        return words::bench::nothing_left().to_owned();
    };
    let name = job.name_of(first);
    if next().all(|(job, code)| job.name_of(code) == name) {
        name
    } else if next().all(|(_, code)| code == first) {
        // They differ only in how it is done: in what, how many, or on which shoe.
        operations::name(first).to_owned()
    } else {
        words::bench::next_of_each().to_owned()
    }
}

fn waits(rows: &[StationRow], wait: &Wait) -> Vec<Draft> {
    let begin = |row: &StationRow| commands::wait(row.job.id, wait.clone());
    rows.iter().map(begin).collect()
}

/// The operations that a wait may belong to: the last one done on each pair, then the next one.
fn at_hand(rows: &[StationRow]) -> Vec<OperationCode> {
    let done = rows.iter().filter_map(|row| row.job.done.last());
    let next = rows.iter().filter_map(|row| row.job.left.first());
    done.chain(next).cloned().collect()
}

/// The address of the camera for a run through these pairs.
pub(super) fn run_address(rows: &[StationRow]) -> String {
    let Some(first) = rows.first() else {
        return String::new();
    };
    let mut address = format!("/camera/{}?run=", first.job.id);
    for (at, row) in rows.iter().enumerate() {
        if at > 0 {
            address.push(',');
        }
        address.push_str(&row.job.id.to_string());
    }
    address
}
