//! A pair's tile on the Bench: pick it by its number, open its work, photograph it.

use leptos::prelude::*;
use leptos_router::components::A;
use shared::log::fold::JobLine;
use shared::log::{SubjectId, UnixMs};
use shared::trade::formulas::day::Day;
use shared::week::{CementTimes, RunningWait, WeekPlan, cement_open_until};

use crate::parts::{Face, about, camera_icon, promised, today};
use crate::selection::Selection;
use app_core::browser::clock;
use app_core::stations::{JobPlace, StationRow, nearness, ready_for, time_left};

/// What the tiles follow.
#[derive(Clone, Copy)]
pub(super) struct TileSignals {
    /// The pairs picked.
    pub(super) bench: Selection,
    /// The time.
    pub(super) now: Signal<UnixMs>,
    /// The plan.
    pub(super) told: Memo<WeekPlan>,
    /// The jobs of the runs to do now.
    pub(super) running: Memo<Vec<SubjectId>>,
}

/// A tile: the pair's picture with its number, which picks it; below it what is next and when, with a link to its work;
/// and a link to the camera. `heading` is drawn on it if it is the first of its station.
pub(super) fn bench_row<H>(
    signals: TileSignals,
    row: &StationRow,
    place: &JobPlace,
    heading: H,
) -> impl IntoView + use<H>
where
    H: Fn() -> Option<AnyView> + Send + 'static,
{
    let TileSignals {
        bench,
        now,
        told,
        running,
    } = signals;
    // A clone, because the link's children are created later.
    let row = row.clone();
    let job = row.job.id;
    let picked = move || bench.picked().with(|picked| picked.contains(&job));
    let in_run = Memo::new(move |_| running.with(|running| running.contains(&job)));
    let said_in_run = move || in_run.get().then(words::bench::in_this_run);
    let name = row.name().to_owned();
    let tag = row.job.tag.clone();
    let held_by = held_by(&row.job, place).map(|fact| view! { <strong class="next">{fact}" "</strong> });
    // A screen reader reads the name in full, which stands with the name of the pair.
    let next = next_work(&row.job);
    let next_in_full = next.as_ref().map(|next| next.in_full.clone());
    let next = next.map(|next| view! { <strong class="next" aria-hidden="true">{next.on_tile}" "</strong> });
    let marks = marks(&row.job, place)
        .into_iter()
        .map(|mark| view! { <strong class="mark">{mark}</strong> })
        .collect_view();
    let drying = (*place == JobPlace::Drying).then_some(row.job.dry_at).flatten();
    let left = drying.map(|end| view! { <strong class="left">{move || time_left(end, now.get())}</strong> });
    let open_until = open_until(&row.job);
    let cement =
        open_until.map(|until| view! { <span class="cement">{move || cement(until, now.get())}</span> });
    let planned = move || told.with(|told| planned(job, told));
    let replanned = move || told.with(|told| replanned(job, told));
    view! {
        <li class="bench-row" class:picked=picked class:running=move || in_run.get()>
            {heading}
            <A href=format!("/job/{job}")>
                <Face of=row.face.clone() on=Some(job) alt="" goods=row.goods.clone()/>
                <span class="who">
                    <span class="unseen">{row.name().to_owned()}" "{row.title.clone()}" "{next_in_full}" "</span>
                    {held_by}
                    {next}
                    {left}
                    <span class="marks">{marks}</span>
                    <span class="quiet planned">{planned}</span>
                    {cement}
                    <span class="quiet replanned">{replanned}</span>
                    <span class="quiet whose"><span aria-hidden="true">{row.title.clone()}" "</span>{whose(&row)}</span>
                    <span class="unseen">{said_in_run}</span>
                </span>
            </A>
            <button class="pick" aria-label=words::bench::pick(&name) aria-pressed=move || picked().to_string()
                on:click=move |_| bench.pick(job)><strong class="tag">{tag}</strong></button>
            <a class="shoot" href=format!("/camera/{job}") aria-label=words::bench::photograph(&name)>{camera_icon()}</a>
        </li>
    }
}

/// What a pair waits for, or where it stands.
fn held_by(job: &JobLine, place: &JobPlace) -> Option<String> {
    match place {
        JobPlace::Customer => job.call_at.as_deref().map(words::bench::call_again),
        JobPlace::Material => job.material.clone(),
        JobPlace::Ready => job.shelf.as_deref().map(words::bench::on_shelf),
        _ => None,
    }
}

/// The next operation of a pair and how many follow it.
struct NextWork {
    /// With the operation's tile name.
    on_tile: String,
    /// With the whole name of its line.
    in_full: String,
}

/// What is done next; `None` if nothing is left to do.
fn next_work(job: &JobLine) -> Option<NextWork> {
    let next = job.left.first()?;
    let more = job.left.len() - 1;
    let and_more = |name: String| match more {
        0 => name,
        more => words::bench::next_and_more(&name, more),
    };
    Some(NextWork {
        on_tile: and_more(job.tile_name_of(next)),
        in_full: and_more(job.name_of(next)),
    })
}

/// Until when the cement that was put on a pair is open; `None` if none was.
fn open_until(job: &JobLine) -> Option<UnixMs> {
    let wait = job.dry_at.map(|ends| RunningWait {
        ends,
        operation: job.drying_operation.as_deref(),
        dries: job.drying_kind.as_deref(),
    });
    cement_open_until(&job.left, wait, CementTimes::usual()).filter(|_| job.ready_at.is_none())
}

/// Until when cement can be joined, or that it has closed; the plan may have the pair next much later.
fn cement(until: UnixMs, now: UnixMs) -> String {
    if until < now {
        words::bench::cement_has_closed().to_owned()
    } else {
        words::bench::cement_open_until(&about(until))
    }
}

/// When the plan has it next; for a pair that is held, by when its work must go on.
fn planned(job: SubjectId, told: &WeekPlan) -> Option<String> {
    let planned = told.order.iter().find(|one| one.job == job);
    let when = planned.map(|one| words::bench::next_and_done(&one.when, &one.done));
    when.or_else(|| Some(told.held.iter().find(|one| one.job == job)?.words.clone()))
}

/// Why it is done on another day than was shown before; nothing if that has not changed.
fn replanned(job: SubjectId, told: &WeekPlan) -> Option<String> {
    let planned = told.order.iter().find(|one| one.job == job);
    planned?.why.clone()
}

/// The owner, and the day of the promise.
fn whose(row: &StationRow) -> String {
    let Some(day) = row.job.day else {
        return row.customer.clone();
    };
    let this_year = Day::parse(&today()).is_some_and(|today| today.date().0 == day.date().0);
    let day = if this_year {
        day.words_without_year()
    } else {
        day.words()
    };
    // The day is not broken across lines.
    let promised = promised(&day.replace(' ', "\u{a0}"), row.job.ready_from.as_deref());
    match row.customer.as_str() {
        "" => words::bench::promised_for(&promised),
        customer => words::bench::customer_and_promise(customer, &promised),
    }
}

/// Warnings, in words.
fn marks(job: &JobLine, place: &JobPlace) -> Vec<String> {
    let mut marks: Vec<String> = [
        (job.first, words::bench::first()),
        (job.waits, words::bench::customer_waits()),
        (job.rush, words::bench::rush()),
        (job.complaint, words::bench::complaint()),
        (job.unrepaired, words::bench::goes_back_as_it_is()),
        (job.disputed, words::bench::agreed_differently()),
    ]
    .into_iter()
    .filter(|(set, _)| *set)
    .map(|(_, mark)| mark.to_owned())
    .collect();
    // A wait that is over is shown until the next operation is noted.
    let dry = job
        .dry_at
        .filter(|end| *end <= clock::now() && job.ready_at.is_none());
    marks.extend(dry.map(|_| words::bench::dry().to_owned()));
    // A pair that is ready is not late, but its owner may be late in collecting it.
    marks.extend(match (place, job.ready_at) {
        (JobPlace::Ready, Some(since)) => Some(ready_for(since, clock::now())),
        _ => job
            .day
            .zip(Day::parse(&today()))
            .and_then(|(day, today)| nearness(day, today)),
    });
    marks
}
