//! Pair: its life, newest first.

mod forecast;
mod head;
mod job;
pub(super) mod lines;
mod same;

use leptos::prelude::*;
use shared::log::fold::{Life, Summary};
use shared::price::facts::PairFacts;

use super::job::use_subject;
use crate::acts::records::customers;
use crate::shop::{Shop, use_shop};
use crate::workshop::use_stored;

/// Everything about one pair.
#[component]
pub fn Pair() -> impl IntoView {
    let shop = use_shop();
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
                Some(life) => whole(&life, shop).into_any(),
                None => view! { <h1>"Pair"</h1> <p>"There is no such pair on this device."</p> }.into_any(),
            })
    }
}

fn whole(life: &Life, shop: Shop) -> impl IntoView + use<> {
    let summary = Summary::of(life);
    let jobs = summary
        .jobs
        .iter()
        .filter_map(|line| Some(job::one(line, life.jobs.get(&line.id)?, life, shop)));
    view! {
        <head::Head life=life.clone() summary=summary.clone()/>
        <same::Same life=life.clone() summary=summary.clone()/>
        {(!summary.open()).then(|| view! { <forecast::Forecast facts=PairFacts::of(life)/> })}
        {jobs.collect_view()}
        <head::Forget subjects=customers(life)/>
    }
}
