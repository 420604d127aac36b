//! The runs to do now, as a line each that unfolds: when, why, and what can be decided about it.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::trade::{Station, WaitKind, operations};
use shared::week::{FINAL_CHECK, Run, WETTING, WeekPlan};

use super::check_run::check_link;
use super::decide::{RunDecision, decide};
use super::fold::fold;
use super::picked::run_address;
use crate::selection::use_selection;
use crate::session::use_session;
use app_core::commands;
use app_core::stations::{StationRow, StationSection, minutes_in_words};

/// A run and the rows of its pairs.
pub(super) type RunNow = (Run, Vec<StationRow>);

/// For each person who works at the bench, the run to do now.
pub(super) fn known_runs(told: Memo<WeekPlan>, shop: Memo<Option<Vec<StationSection>>>) -> Memo<Vec<RunNow>> {
    let runs = Memo::new(move |_| told.with(|told| told.runs.clone()));
    Memo::new(move |_| {
        let shop = shop.get().unwrap_or_default();
        let rows = || shop.iter().flat_map(|section| &section.rows);
        let of = |run: &Run| {
            let found = run
                .jobs
                .iter()
                .filter_map(|one| rows().find(|row| row.job.id == one.job));
            found.cloned().collect::<Vec<StationRow>>()
        };
        // A run with a pair that has just left the shop is hidden until the next plan.
        let known = runs.get().into_iter().map(|run| (of(&run), run));
        let known = known.filter(|(rows, run)| rows.len() == run.jobs.len());
        known.map(|(rows, run)| (run, rows)).collect()
    })
}

/// What a run is drawn by: while this stays, only its times and reasons change.
pub(super) fn run_key((run, rows): &RunNow) -> String {
    format!("{} {:?} {rows:?}", run.place, run.jobs)
}

/// A line for each run, or while the first plan is made a line that says so.
#[component]
pub(super) fn Runs(
    known: Memo<Vec<RunNow>>,
    shop: Memo<Option<Vec<StationSection>>>,
    planning: Signal<bool>,
    /// Whether the plan may change because the log is still arriving.
    preliminary: Signal<bool>,
) -> impl IntoView {
    view! {
        <For each=move || known.get().into_iter().enumerate() key=|(at, run)| format!("{at} {}", run_key(run)) let:one>
            {one_run(one.0, one.1, known, shop)}
        </For>
        <Show when=move || preliminary.get()><p class="quiet">{words::bench::plan_is_preliminary()}</p></Show>
        <Show when=move || planning.get()><section class="run" aria-label=words::bench::planning()><p class="quiet planning">{words::bench::planning_what_to_do()}</p></section></Show>
    }
}

/// One run. Its times and reasons, and whether it is under way, are updated with the plan; the rest is redrawn only when
/// it becomes another run. What has put it in the place of another one is said below the line.
fn one_run(
    at: usize,
    (run, rows): RunNow,
    known: Memo<Vec<RunNow>>,
    shop: Memo<Option<Vec<StationSection>>>,
) -> impl IntoView {
    let place = place(&run.place);
    let label = place.clone();
    let latest = Memo::new(move |before: Option<&Run>| {
        let now = known.with(|known| known.get(at).map(|(run, _)| run.clone()));
        now.or_else(|| before.cloned()).unwrap_or_else(|| run.clone())
    });
    let title = move || latest.with(|run| heading(run, &place));
    let minutes = move || minutes_in_words(latest.with(|run| run.minutes).into());
    let when = move || latest.with(|run| run.when.clone());
    let changed = move || latest.with(|run| run.changed.clone());
    let why = move || {
        let why = latest.with(|run| run.why.clone());
        why.into_iter().map(|why| view! { <li>{why}</li> }).collect_view()
    };
    let pairs = rows.iter().map(|row| {
        let name = row.name().to_owned();
        let label = words::bench::pair_in_this_run(&name);
        view! { <li><a href=format!("/job/{}", row.job.id) aria-label=label><strong class="tag">{name}</strong></a></li> }
    });
    let pairs = pairs.collect_view();
    let jobs: Vec<_> = rows.iter().map(|row| row.job.id).collect();
    let begun = Memo::new(move |_| latest.with(|run| run.begun));
    let line = view! { <h2>{title}" "<span class="count">{rows.len()}</span></h2><span class="minutes">{minutes}</span> };
    let others = other_actions(at, latest.get_untracked(), rows);
    let unfolded = view! {
        <div class="run-card">
            <p><strong>{when}</strong></p>
            <ul class="plain run-pairs">{pairs}</ul>
            <ul class="quiet why">{why}</ul>
            <div class="actions">{others}<Decisions jobs begun shop/></div>
        </div>
    };
    view! {
        <section class="run" aria-label=label>
            {fold(format!("run {at}"), false, line.into_any(), unfolded.into_any())}
            <p class="changed" role="status">{changed}</p>
        </section>
    }
}

/// What is not in the dock: of the first run the checks after the first one; of another run all of it.
fn other_actions(at: usize, run: Run, rows: Vec<StationRow>) -> AnyView {
    let checks = (run.place == FINAL_CHECK).then(|| {
        let later = rows.iter().skip(1).map(|row| check_link(row, false));
        later.collect_view()
    });
    let first = (at > 0).then(|| {
        let camera = run_address(&rows);
        view! {
            <RunAction run rows/>
            <a class="button bench quiet" href=camera>{words::bench::photograph_this_run()}</a>
        }
    });
    (first, checks).into_any()
}

/// What stands above a run: whether it begins later, as at night, is under way, or can begin now.
fn heading(run: &Run, place: &str) -> String {
    match (run.now, run.begun) {
        (false, _) => words::bench::run_next(place),
        (true, true) => words::bench::run_under_way(place),
        (true, false) => words::bench::run_now(place),
    }
}

/// Buttons for what can be decided about the run of these jobs.
#[component]
fn Decisions(
    jobs: Vec<SubjectId>,
    begun: Memo<bool>,
    shop: Memo<Option<Vec<StationSection>>>,
) -> impl IntoView {
    let context = (use_session(), use_selection());
    let press = Callback::new(move |decision| {
        let shop = shop.get_untracked().unwrap_or_default();
        decide(context, decision, jobs.clone(), &shop);
    });
    view! {
        <Show when=move || !begun.get()>
            <button class="bench quiet" on:click=move |_| press.run(RunDecision::Begin)>{words::bench::begin_this_run()}</button>
        </Show>
        <button class="bench quiet" on:click=move |_| press.run(RunDecision::PutAside)>{words::bench::not_these_now()}</button>
        <button class="bench quiet" on:click=move |_| press.run(RunDecision::GoOn)>{words::bench::interrupted_plan_from_now()}</button>
    }
}

/// A button that notes the whole run as done; for a run of final checks a link to the first one, because each pair must
/// be ticked.
#[component]
pub(super) fn RunAction(run: Run, rows: Vec<StationRow>) -> impl IntoView {
    let bench = use_selection();
    if run.place == FINAL_CHECK {
        return rows.first().map(|row| check_link(row, true)).into_any();
    }
    let label = done_words(&run);
    let said = words::bench::run_noted(&label);
    let done = move |_| {
        let lines = rows.iter().map(|row| &row.job);
        bench.act(commands::run_done(run.jobs.iter().zip(lines)), said.clone());
    };
    view! { <button class="bench go" on:click=done>{label}</button> }.into_any()
}

/// The label of that button, and the notice after a tap on it: what is done, and how long it dries then.
fn done_words(run: &Run) -> String {
    let coated = run.jobs.iter().all(|one| one.coat);
    let wet = run.place == WETTING;
    let dry = run.jobs.iter().map(|one| one.wait_min).max();
    let dry = dry
        .filter(|dry| *dry > 0)
        .map(|dry| minutes_in_words(u64::from(dry)));
    let cement = Some(WaitKind::CementTouchDry.word());
    let cemented = run.jobs.iter().all(|one| one.dries.as_deref() == cement);
    match (coated, dry) {
        (_, Some(dry)) if wet => words::bench::soles_are_wet(&dry),
        (true, Some(dry)) if !cemented => words::bench::first_part_is_done_and_dries(&dry),
        (true, None) => words::bench::cement_is_on().to_owned(),
        (true, Some(dry)) => words::bench::cement_is_on_and_dries(&dry),
        (false, None) => words::bench::this_run_is_done().to_owned(),
        (false, Some(dry)) => words::bench::this_run_is_done_and_dries(&dry),
    }
}

/// The name of the station of a run.
fn place(word: &str) -> String {
    match word {
        FINAL_CHECK => return words::bench::final_check().to_owned(),
        WETTING => return words::bench::wet_soles().to_owned(),
        _ => {}
    }
    let station = Station::KNOWN.iter().find(|known| known.as_str() == word);
    station.map_or_else(
        || operations::name(word).to_owned(),
        |station| station.words().to_owned(),
    )
}
