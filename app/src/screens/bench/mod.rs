//! The Bench: the pairs in the shop, by station.

mod check_run;
mod decide;
mod held;
mod now;
mod picked;
mod plan;
mod risk;
mod row;

use leptos::prelude::*;
use shared::log::{SubjectId, UnixMs};
use shared::trade::formulas::day::Day;
use shared::week::WeekPlan;

use held::Unsafe;
use now::Runs;
use picked::PickedBar;
use plan::BenchPlan;
use risk::Risks;
use row::bench_row;

pub(super) use risk::put_first;

use crate::device::screen::use_now;
use crate::device::worker::ServiceWorker;
use crate::parts::{InstallHint, Wiped, Working, today};
use crate::selection::{Selection, use_selection};
use crate::session::{use_live_query, use_session};
use app_core::stations::{JobPlace, StationRow, StationSection, sections};

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
    // While a pair is picked, the order stays, because a list that moves is hard to hit with a thumb.
    let order = Memo::new(move |old: Option<&Vec<SubjectId>>| {
        let picking = bench.picked().with(|picked| !picked.is_empty());
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
    let runs = Signal::derive(move || told.with(|told| told.runs.clone()));
    let preliminary = Signal::derive(move || told.with(|told| told.preliminary));
    let tonight = Memo::new(move |_| told.with(|told| told.tonight.clone()));
    let nobody = Memo::new(move |_| shop.with(|shop| shop.as_ref().map(Vec::is_empty)));
    let stations = move || {
        let none = nobody.get()?;
        let empty = none.then(|| view! { <InstallHint/> <p>{words::bench::nothing_is_in_the_shop()}<a href="/drop-off">{words::bench::take_a_pair_in()}</a>{words::bench::or_instead()}<a href="/join">{words::bench::join_a_shop()}</a>{words::bench::that_has_begun_already()}</p> });
        Some(view! {
            {move || shop.with(|shop| urgent(shop.as_deref().unwrap_or_default()))}
            {move || shop.with(|shop| view! { <Jumps sections=shop.as_deref().unwrap_or_default()/> })}
            <div data-ready="bench">
                <For each=move || places(drawn) key=|place| place.words().to_owned() let:place>{station(bench, place, shop, drawn, now, told)}</For>
            </div>
            {empty}
        })
    };
    view! {
        <div class="bench-top"><h1>{words::bench::screen_name()}</h1><Unsafe/></div>
        <Wiped/>
        <Working/>
        <Show when=move || worker.update_waiting().get()>
            <button class="bench" disabled=worker.applying() on:click=move |_| worker.apply_update()>
                {move || if worker.applying().get() { words::bench::starting_new_version() } else { words::bench::restart_with_new_version() }}
            </button>
        </Show>
        <div class="bench-desk">
            <div>
                <Runs runs shop preliminary planning=Signal::derive(move || planned.with(Option::is_none) && at_work(shop))/>
                {move || tonight.get().map(|wet| view! { <p class="card" role="status"><strong>{wet}</strong></p> })}
                {move || trouble.get().map(|why| view! { <p class="quiet" role="status">{words::bench::no_plan_now(&why)}</p> })}
                <Risks told=told.into()/>
            </div>
            <div>{stations}</div>
        </div>
        <PickedBar shop/>
    }
}

/// What is late, or due today and not ready, at any station.
fn urgent(sections: &[StationSection]) -> AnyView {
    let today = Day::parse(&today());
    let working = sections.iter().filter(|section| section.place != JobPlace::Ready);
    let due = working.flat_map(|section| &section.rows);
    let mut due: Vec<&StationRow> = due
        .filter(|row| row.job.day.is_some() && row.job.day <= today)
        .collect();
    due.sort_by_key(|row| row.job.day);
    let links = due.into_iter().map(|row| {
        let label = words::bench::pair_is_due(row.name());
        view! { <li><a href=format!("/job/{}", row.job.id) aria-label=label><strong class="tag">{row.name().to_owned()}</strong></a></li> }
    });
    let links: Vec<_> = links.collect();
    (!links.is_empty())
        .then(|| view! { <section class="urgent" aria-label=words::bench::due_today_or_late()><h2>{words::bench::due_today_or_late()}</h2><ul class="plain row">{links}</ul></section> })
        .into_any()
}

/// Links to each station's section, if there is more than one.
#[component]
fn Jumps<'a>(sections: &'a [StationSection]) -> impl IntoView + use<> {
    let links = sections.iter().map(|section| {
        let words = section.place.words().to_owned();
        view! { <a class="jump" href=format!("#{}", anchor(&words))>{words.clone()}" "<b>{section.rows.len()}</b></a> }
    });
    let several = sections.len() > 1;
    several.then(
        || view! { <nav class="jumps" aria-label=words::bench::stations()>{links.collect_view()}</nav> },
    )
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

/// The stations that have pairs, in their order.
fn places(shop: Memo<Option<Vec<StationSection>>>) -> Vec<JobPlace> {
    shop.with(|shop| {
        shop.iter()
            .flatten()
            .map(|section| section.place.clone())
            .collect()
    })
}

/// Reads something from the rows of a station; from no rows if it has no section.
fn at_place<T>(
    shop: Memo<Option<Vec<StationSection>>>,
    place: &JobPlace,
    read: impl Fn(&[StationRow]) -> T,
) -> T {
    shop.with(|shop| {
        let section = shop.iter().flatten().find(|section| section.place == *place);
        read(section.map_or(&[], |section| &section.rows))
    })
}

/// The section of one station: the number of pairs, and those rows that are drawn so far. Rows that stay are not
/// redrawn, so that a person who is about to tap one still hits it.
fn station(
    bench: Selection,
    place: JobPlace,
    shop: Memo<Option<Vec<StationSection>>>,
    drawn: Memo<Option<Vec<StationSection>>>,
    now: Signal<UnixMs>,
    told: Memo<WeekPlan>,
) -> impl IntoView + use<> {
    let words = place.words().to_owned();
    let id = anchor(&words);
    let (here, counted) = (place.clone(), place.clone());
    let rows = Memo::new(move |_| at_place(drawn, &here, <[StationRow]>::to_vec));
    let count = move || at_place(shop, &counted, <[StationRow]>::len);
    view! {
        <section class="station" aria-labelledby=id>
            <h2 id=id.clone()>{words}" "<span class="count">{count}</span></h2>
            <ul class="pairs">
                <For each=move || rows.get() key=|row| format!("{row:?}") let:row>{bench_row(bench, &row, &place, now, told)}</For>
            </ul>
        </section>
    }
}

/// The id of a station's section on the page.
fn anchor(words: &str) -> String {
    words.to_lowercase().replace(' ', "-")
}
