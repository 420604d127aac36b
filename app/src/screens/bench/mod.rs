//! The Bench: the pairs in the shop, by station, and what to do now.

mod check_run;
mod decide;
mod dock;
mod empty;
mod fold;
mod held;
mod now;
mod picked;
mod plan;
mod rail;
mod risk;
mod row;
mod stations;

use leptos::prelude::*;
use shared::log::SubjectId;

use dock::Dock;
use empty::EmptyBench;
use held::Unsafe;
use now::{RunNow, Runs, known_runs};
use plan::BenchPlan;
use rail::Rail;
use risk::{Risks, due, late_count};
use row::TileSignals;
use stations::{WaitingLines, WorkGrid};

pub(super) use risk::put_first;

use crate::device::screen::use_now;
use crate::device::worker::ServiceWorker;
use crate::parts::Wiped;
use crate::selection::use_selection;
use crate::session::{use_live_query, use_session};
use app_core::stations::{JobPlace, StationSection, sections};

/// How many rows are drawn at first, which is more than any screen shows; the others follow once these are drawn.
const FIRST_ROWS: usize = 12;

/// Every pair in the shop, grouped by its station.
#[component]
pub fn Bench() -> impl IntoView {
    let bench = use_selection();
    let worker = expect_context::<ServiceWorker>();
    let pairs = use_live_query(|phone| async move { Ok(phone.in_shop().await?) });
    let session = use_session();
    Effect::new(move |_| {
        if pairs.get().is_some() {
            session.first_screen_drawn();
        }
    });
    let now = use_now();
    let BenchPlan {
        told: planned,
        trouble,
    } = plan::follow(pairs);
    let told = Memo::new(move |_| planned.get().unwrap_or_default());
    // A picked pair may have left the shop meanwhile, on another device.
    let picking = Memo::new(move |_| {
        let picked = bench.picked().get();
        // The pairs are read only if any is picked.
        !picked.is_empty() && {
            let pairs = pairs.get().unwrap_or_default();
            let mut jobs = pairs.iter().flat_map(|pair| &pair.jobs);
            jobs.any(|job| picked.contains(&job.id))
        }
    });
    // While a pair is picked, the order stays, because a list that moves is hard to hit with a thumb.
    let order = Memo::new(move |old: Option<&Vec<SubjectId>>| {
        let picking = picking.get();
        let planned = || told.with(|told| told.order.iter().map(|one| one.job).collect());
        old.filter(|_| picking).cloned().unwrap_or_else(planned)
    });
    // Recalculated by a memo, so that the page is redrawn only if a row has changed.
    let shop = Memo::new(move |_| {
        let order = order.get();
        pairs.get().map(|pairs| sections(pairs, now.get(), &order))
    });
    let begun = session.is_started();
    let drawn = Memo::new(move |_| {
        let shop = shop.get()?;
        Some(if begun.get() { shop } else { first_rows(shop) })
    });
    let known = known_runs(told, shop);
    // The pairs of the run stay, too, while a pair is picked.
    let running = Memo::new(move |old: Option<&Vec<SubjectId>>| {
        let picking = picking.get();
        let jobs = || known.with(|known| jobs_of(known));
        old.filter(|_| picking).cloned().unwrap_or_else(jobs)
    });
    let signals = TileSignals {
        bench,
        now,
        told,
        running,
    };
    let preliminary = Signal::derive(move || told.with(|told| told.preliminary));
    let planning = Signal::derive(move || planned.with(Option::is_none) && at_work(shop));
    let tonight = Memo::new(move |_| told.with(|told| told.tonight.clone()));
    let nobody = Memo::new(move |_| shop.with(|shop| shop.as_ref().map(Vec::is_empty)));
    let due = due(shop);
    let stations = move || {
        let empty = nobody.get()?.then(|| view! { <EmptyBench/> });
        Some(view! {
            <div data-ready="bench">
                <WorkGrid signals drawn/>
                <Risks due told/>
                <WaitingLines signals shop drawn/>
            </div>
            {empty}
        })
    };
    view! {
        <h1 class="unseen">{words::bench::screen_name()}</h1>
        <Rail shop late=late_count(due, told)/>
        <Wiped/>
        <Show when=move || worker.update_waiting().get()>
            <button class="bench" disabled=worker.applying() on:click=move |_| worker.apply_update()>
                {move || if worker.applying().get() { words::bench::starting_new_version() } else { words::bench::restart_with_new_version() }}
            </button>
        </Show>
        <div class="now-room" hidden=move || nobody.get() == Some(true)>
            <Runs known shop preliminary planning/>
            {move || tonight.get().map(|wet| view! { <p role="status"><strong>{wet}</strong></p> })}
            {move || trouble.get().map(|why| view! { <p class="quiet" role="status">{words::bench::no_plan_now(&why)}</p> })}
        </div>
        {stations}
        <Unsafe/>
        <Dock shop known/>
    }
}

/// The jobs of all these runs.
fn jobs_of(runs: &[RunNow]) -> Vec<SubjectId> {
    let rows = runs.iter().flat_map(|run| &run.1);
    rows.map(|row| row.job.id).collect()
}

/// Whether any pair is at a station where there is work to plan.
fn at_work(shop: Memo<Option<Vec<StationSection>>>) -> bool {
    shop.with(|shop| {
        shop.iter()
            .flatten()
            .any(|section| section.place != JobPlace::Ready)
    })
}

/// The first [`FIRST_ROWS`] rows, in the order of the page.
fn first_rows(mut sections: Vec<StationSection>) -> Vec<StationSection> {
    let mut left = FIRST_ROWS;
    for section in &mut sections {
        section.rows.truncate(left);
        left -= section.rows.len();
    }
    sections.retain(|section| !section.rows.is_empty());
    sections
}
