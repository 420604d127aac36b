//! The page of a pair: its pair history, newest first.

mod customer_records;
pub(super) mod export;
mod fitted;
mod forecast;
mod forget;
mod head;
mod job;
pub(super) mod lines;
mod ours;
mod same;
mod wore;

use leptos::prelude::*;
use shared::log::fold::summary::customer_of;
use shared::log::fold::{PairHistory, Summary};
use shared::log::{Subject, SubjectKind};
use shared::price::records::PairFacts;

use super::job::use_subject;
use crate::session::{LiveQuery, use_live_query};
use crate::shop::{ShopContext, use_shop};
use app_core::commands::records::customers;
use app_core::pair_history::{parts, series, shots};

pub(super) use fitted::the_day;

/// Everything about one pair.
#[component]
pub fn Pair() -> impl IntoView {
    let shop = use_shop();
    let life = use_life();
    move || {
        life.get().map(|life| match life {
            Some(life) => whole(&life, shop).into_any(),
            None => view! { <h1>{words::pair::pair()}</h1> <p>{words::pair::no_such_pair()}</p> }.into_any(),
        })
    }
}

/// The pair history of the pair in the address, as a live query. `Some(None)`: there is no such pair on this device.
pub(super) fn use_life() -> LiveQuery<Option<PairHistory>> {
    let id = use_subject("id");
    use_live_query(move |phone| {
        let id = id.get();
        async move {
            let life = match id {
                Some(id) => Some(phone.pair_history(id).await?),
                None => None,
            };
            Ok(life.filter(|life| !life.jobs.is_empty()))
        }
    })
}

/// The jobs of a pair, as subjects.
fn jobs_of(life: &PairHistory) -> Vec<Subject> {
    let ids = life.jobs.keys();
    ids.map(|id| Subject::new(SubjectKind::Job, *id)).collect()
}

fn whole(life: &PairHistory, shop: ShopContext) -> impl IntoView + use<> {
    let summary = Summary::of(life);
    let jobs = summary
        .jobs
        .iter()
        .filter_map(|line| Some(job::one(line, life.jobs.get(&line.id)?, life, shop)));
    let put_on = parts(life);
    let compare = (shots(life).len() > 1).then(|| {
        let compare = format!("/pair/{}/compare", life.id);
        view! { <p><a class="button bench quiet" href=compare>{words::pair::compare_photographs()}</a></p> }
    });
    view! {
        <head::Head life=life.clone() summary=summary.clone()/>
        <same::Same life=life.clone() summary=summary.clone()/>
        {(!summary.open()).then(|| view! { <forecast::Forecast facts=PairFacts::of(life)/> })}
        {compare}
        {fitted::fitted(&put_on, shop)}
        <ours::Ours life=life.clone() fitted=put_on came_back=!summary.open()/>
        {wore::wore(series(life), shop.lengths())}
        {jobs.collect_view()}
        <export::Export customer=customer_of(life)/>
        <forget::Forget customers=customers(life) jobs=jobs_of(life)/>
    }
}
