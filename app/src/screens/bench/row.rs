//! One pair on the Bench: pick it, open its work, photograph it.

use leptos::prelude::*;
use leptos_router::components::A;
use shared::log::fold::JobLine;
use shared::log::{SubjectId, UnixMs};
use shared::trade::operations;
use shared::week::WeekPlan;

use crate::card::in_words;
use crate::parts::{Face, camera_icon, promised, today};
use crate::selection::Selection;
use app_core::browser::clock;
use app_core::stations::{JobPlace, StationRow, nearness, ready_for, time_left};

/// A row: a box to pick the pair, its thumbnail, number, name, owner and next step with a link to its work, and a link
/// to the camera.
pub(super) fn bench_row(
    bench: Selection,
    row: &StationRow,
    place: &JobPlace,
    now: Signal<UnixMs>,
    told: Memo<WeekPlan>,
) -> impl IntoView + use<> {
    // A clone, because the link's children are created later.
    let row = row.clone();
    let job = row.job.id;
    let picked = move || bench.picked().with(|picked| picked.contains(&job));
    let name = row.name().to_owned();
    let facts = facts(&row.job, place)
        .into_iter()
        .map(|fact| view! { <span>{fact}" "</span> })
        .collect_view();
    let marks = marks(&row.job, place)
        .into_iter()
        .map(|mark| view! { <strong class="mark">{mark}</strong> })
        .collect_view();
    let drying = (*place == JobPlace::Drying).then_some(row.job.dry_at).flatten();
    let left = drying.map(|end| view! { <strong class="left">{move || time_left(end, now.get())}</strong> });
    let planned = move || told.with(|told| planned(job, told));
    view! {
        <li class="bench-row" class:picked=picked>
            <button class="pick bench quiet" aria-label=format!("Pick {name}") aria-pressed=move || picked().to_string()
                on:click=move |_| bench.pick(job)></button>
            <A href=format!("/job/{job}")>
                <Face of=row.face.clone() on=Some(job) alt=""/>
                <span class="who">
                    <span class="what"><strong class="tag">{row.job.tag.clone()}</strong>" "{row.title.clone()}</span>" "
                    {left}
                    {facts}
                    <span class="quiet planned">{planned}</span>
                    <span class="quiet">{whose(&row)}</span>" "
                    <span class="marks">{marks}</span>
                </span>
            </A>
            <a class="button bench shoot" href=format!("/camera/{job}") aria-label=format!("Photograph {name}")>{camera_icon()}</a>
        </li>
    }
}

/// What is next, what it waits for, and the day.
fn facts(job: &JobLine, place: &JobPlace) -> Vec<String> {
    let mut facts = Vec::new();
    match place {
        JobPlace::Customer if !job.call_at.is_empty() => facts.push(format!("call again {}", job.call_at)),
        JobPlace::Material => facts.push(job.material.clone()),
        JobPlace::Ready if !job.shelf.is_empty() => facts.push(format!("shelf {}", job.shelf)),
        _ => {}
    }
    let mut left = job
        .left
        .iter()
        .map(|code| [operations::name(code), job.side_of(code).after()].concat());
    if let Some(next) = left.next() {
        let more = left.len();
        facts.push(match more {
            0 => next,
            more => format!("{next}, then {more} more"),
        });
    }
    facts
}

/// When the plan has it next; for a pair that is held, by when its work must go on.
fn planned(job: SubjectId, told: &WeekPlan) -> Option<String> {
    let planned = told.order.iter().find(|one| one.job == job);
    let when = planned.map(|one| ["next ", &one.when, ", done ", &one.done].concat());
    when.or_else(|| Some(told.held.iter().find(|one| one.job == job)?.words.clone()))
}

/// The owner, and the day of the promise.
fn whose(row: &StationRow) -> String {
    let day = in_words(&row.job.day);
    // The year is left out if it is this one, and the day is not broken across lines.
    let day = match day.rsplit_once(' ') {
        Some((short, year)) if today().starts_with(year) => short,
        _ => day.as_str(),
    };
    let day = &day.replace(' ', "\u{a0}");
    if day.is_empty() {
        return row.customer.clone();
    }
    let promised = promised(day, &row.job.ready_from);
    match row.customer.as_str() {
        "" => ["for ", &promised].concat(),
        customer => [customer, ", for ", &promised].concat(),
    }
}

/// Warnings, in words.
fn marks(job: &JobLine, place: &JobPlace) -> Vec<String> {
    let mut marks: Vec<String> = [
        (job.first, "First"),
        (job.waits, "Customer waits"),
        (job.rush, "Rush"),
        (job.complaint, "Complaint"),
        (job.unrepaired, "Goes back as it is"),
        (job.disputed, "Agreed differently on two devices"),
    ]
    .into_iter()
    .filter(|(set, _)| *set)
    .map(|(_, words)| words.to_owned())
    .collect();
    // A wait that is over is shown until the next operation is noted.
    let dry = job
        .dry_at
        .filter(|end| *end <= clock::now() && job.ready_at.is_none());
    marks.extend(dry.map(|_| "Dry".to_owned()));
    // A pair that is ready is not late, but its owner may be late in collecting it.
    marks.extend(match (place, job.ready_at) {
        (JobPlace::Ready, Some(since)) => Some(ready_for(since, clock::now())),
        _ => nearness(&job.day, &today()),
    });
    marks
}
