//! The bar at the lower edge with what can be done with several picked pairs at once.

use leptos::prelude::*;
use shared::log::body::{OperationCode, Wait};
use shared::trade::operations;

use super::put_first;
use crate::parts::{UndoLast, WaitChoice};
use crate::selection::{UndoScope, use_selection};
use crate::session::use_session;
use app_core::commands;
use app_core::stations::{StationRow, StationSection};
use shared::log::Draft;

/// Shown while a pair is picked, or while there is something to undo.
#[component]
pub fn PickedBar(
    /// The sections of the Bench; `None` until they are read.
    shop: Memo<Option<Vec<StationSection>>>,
) -> impl IntoView {
    let bench = use_selection();
    let waiting = RwSignal::new(false);
    // In the order of picking, without pairs that have left the shop meanwhile.
    let rows = Signal::derive(move || {
        let shop = shop.get().unwrap_or_default();
        let all = || shop.iter().flat_map(|section| &section.rows);
        let picked = bench.picked().get();
        let found = picked
            .iter()
            .filter_map(|job| all().find(|row| row.job.id == *job));
        found.cloned().collect::<Vec<StationRow>>()
    });
    let any = move || !rows.with(Vec::is_empty);
    let silent = Memo::new(move |_| bench.last(UndoScope::Bench).is_none());
    let start = Callback::new(move |chosen: Wait| {
        waiting.set(false);
        let rows = rows.get_untracked();
        bench.act(waits(&rows, &chosen), words::bench::these_wait(rows.len()));
    });
    let at_hand = Signal::derive(move || rows.with(|rows| at_hand(rows)));
    view! {
        <div class="picked-bar" class:idle=move || !any() class:silent=move || silent.get()>
            <UndoLast of=Some(UndoScope::Bench)/>
            <Show when=any>
                <Show when=move || waiting.get()><WaitChoice operations=at_hand start/></Show>
                <div class="actions">
                    <a class="button bench" href=move || rows.with(|rows| run_address(rows))>
                        {move || words::bench::photograph_these(rows.with(Vec::len))}
                    </a>
                    <DoneForThese rows/>
                    <button class="bench" aria-expanded=move || waiting.get().to_string()
                        on:click=move |_| waiting.update(|open| *open = !*open)>{words::bench::start_a_wait_for_all()}</button>
                    <First rows/>
                    <button class="bench quiet" on:click=move |_| bench.picked().set(Vec::new())>{words::bench::pick_none()}</button>
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
        <button class="bench" disabled=move || open() == 0 on:click=done>
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
    view! { <button class="bench" on:click=put>{move || if are.get() { words::bench::no_longer_first() } else { words::bench::do_first() }}</button> }
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
