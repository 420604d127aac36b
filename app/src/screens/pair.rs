//! Pair: its life, newest first.

use leptos::prelude::*;
use shared::log::fold::{JobLine, Life, State, Summary};
use shared::log::{SubjectId, body::field};
use shared::price::format_minor;
use shared::trade::operations;

use super::job::use_subject;
use crate::parts::{Face, Photograph, on_day};
use crate::workshop::use_stored;

/// Everything about one pair.
#[component]
pub fn Pair() -> impl IntoView {
    let id = use_subject("id");
    let life = use_stored(move |phone| {
        let id = id.get();
        async move {
            match id {
                Some(id) => phone.life(id).await.map(Some),
                None => Ok(None),
            }
        }
    });
    move || {
        life.get()
            .map(|life| match life.filter(|life| !life.jobs.is_empty()) {
                Some(life) => whole(&life).into_any(),
                None => view! { <h1>"Pair"</h1> <p>"There is no such pair on this device."</p> }.into_any(),
            })
    }
}

fn whole(life: &Life) -> impl IntoView + use<> {
    let summary = Summary::of(life);
    let title = if summary.title.is_empty() {
        "A pair".to_owned()
    } else {
        summary.title.clone()
    };
    let jobs = summary
        .jobs
        .iter()
        .filter_map(|line| Some(one_job(line, life.jobs.get(&line.id)?)));
    view! {
        <header class="pair-head">
            <Face of=summary.face.clone() on=summary.jobs.first().map(|job| job.id) alt="The pair as it was brought"/>
            <div>
                <h1>{title}</h1>
                <p class="quiet">{summary.customer.clone()}" "{summary.phone.clone()}</p>
            </div>
        </header>
        {jobs.collect_view()}
    }
}

fn one_job(line: &JobLine, job: &State) -> impl IntoView + use<> {
    let number = if line.tag.is_empty() {
        "without a number".to_owned()
    } else {
        line.tag.clone()
    };
    let where_it_is = if line.open { "in the shop" } else { "handed over" };
    let shelf = job.text(field::SHELF).to_owned();
    let ways = line.open.then(|| ways_on(line.id)).into_iter();
    let card =
        (!line.open).then(|| view! { <a class="button" href=format!("/pickup/{}", line.id)>"Care card"</a> });
    view! {
        <section class="card" aria-label=format!("Job {number}")>
            <h2>{number.clone()}" "<span class="quiet">{where_it_is}</span></h2>
            <p class="quiet">{on_day(line.opened_at)} {(!line.day.is_empty()).then(|| format!(", for {}", line.day))}
                {(!shelf.is_empty()).then(|| format!(", shelf {shelf}"))}</p>
            {agreed(job)}
            <Show when={let disputed = line.disputed; move || disputed}>
                <p class="bad">"Agreed differently on two devices: ask which holds."</p>
            </Show>
            <ul class="plain">
                {job.steps.iter().map(step).collect_view()}
                {job.notes.iter().map(|note| view! { <li>{note.body.text.clone()}</li> }).collect_view()}
            </ul>
            <div class="photographs">{job.photos.iter().map(|item| photograph(line.id, item)).collect_view()}</div>
            {newer(job)}
            {ways.collect_view()}
            {card}
        </section>
    }
}

fn agreed(job: &State) -> impl IntoView + use<> {
    let versions = job.agreed.iter().flat_map(|line| &line.versions).map(|version| {
        let name = operations::name(&version.body.operation).to_owned();
        view! { <li>{name}" "{format_minor(version.body.price_minor)}</li> }
    });
    view! { <ul class="plain agreed" aria-label="Agreed work">{versions.collect_view()}</ul> }
}

fn step(item: &shared::log::fold::Item<shared::log::body::Step>) -> impl IntoView + use<> {
    let name = operations::name(&item.body.operation).to_owned();
    let note = (!item.body.note.is_empty()).then(|| format!(": {}", item.body.note));
    view! { <li>"Done: "{name}{note}" "<span class="quiet">{on_day(item.at.utc)}</span></li> }
}

fn photograph(
    job: SubjectId,
    item: &shared::log::fold::Item<shared::log::body::Photo>,
) -> impl IntoView + use<> {
    let caption = item.body.operation.as_deref().map_or_else(
        || {
            if item.body.shows.as_str() == "drop_off" {
                "As brought".to_owned()
            } else {
                "Photograph".to_owned()
            }
        },
        |code| operations::name(code).to_owned(),
    );
    view! { <Photograph thumb=item.body.thumb.sha256.clone() job caption/> }
}

fn newer(job: &State) -> impl IntoView + use<> {
    let count = job.newer.len();
    (count > 0)
        .then(|| view! { <p class="quiet">{count}" entries made by a newer app, kept as they are."</p> })
}

fn ways_on(job: SubjectId) -> impl IntoView {
    view! {
        <p class="row">
            <a class="button bench" href=format!("/camera/{job}")>"Camera"</a>
            <a class="button bench" href=format!("/pickup/{job}")>"Pickup"</a>
        </p>
    }
}
