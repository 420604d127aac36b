//! The page of a pair: its picture, last time beside this time, its visits from the newest on, its parts, and how they wore.

mod beside;
mod customer_records;
pub(super) mod export;
mod fitted;
mod forecast;
pub(super) mod forget;
mod head;
mod job;
pub(super) mod lines;
mod ours;
mod same;
mod ways;
mod wore;

use leptos::prelude::*;
use shared::log::fold::summary::customer_of;
use shared::log::fold::{PairHistory, Summary};
use shared::log::{Subject, SubjectKind};
use shared::price::records::PairFacts;

use super::job::use_subject;
use crate::parts::{BackLink, OpenFolds, WideFace, kept_fold};
use crate::session::{LiveQuery, use_live_query};
use crate::shop::{ShopContext, use_shop};
use app_core::commands::records::customers;
use app_core::pair_history::{face_shot, parts, series};

pub(super) use fitted::the_day;

/// How many visits are shown with their pictures; those before them are a line each.
const PICTURED: usize = 4;

/// Everything about one pair.
#[component]
pub fn Pair() -> impl IntoView {
    OpenFolds::provide();
    let shop = use_shop();
    let life = use_life();
    let missing = move || matches!(life.get(), Some(None));
    let known = Memo::new(move |_| life.get().flatten());
    let there = Memo::new(move |_| known.with(Option::is_some));
    view! {
        <Show when=missing><h1>{words::pair::pair()}</h1> <p>{words::pair::no_such_pair()}</p></Show>
        <Show when=move || there.get()>
            <div class="pair-page">
                <Picture known/>
                {move || known.get().map(|life| whole(&life, shop))}
            </div>
        </Show>
    }
}

/// The pair's picture, as wide as the screen. It stays while what is below it is drawn anew.
#[component]
fn Picture(known: Memo<Option<PairHistory>>) -> impl IntoView {
    let shot = Memo::new(move |_| known.with(|known| face_shot(known.as_ref()?)));
    let goods = Memo::new(move |_| {
        let goods = known.with(|known| known.as_ref()?.pair.goods_code().map(str::to_owned));
        goods.unwrap_or_default()
    });
    view! { <div class="pair-picture"><WideFace shot goods alt=words::pair::pair_as_brought()/><BackLink/></div> }
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
    let at_hand = ways::job_at_hand(&summary).map(|line| line.id);
    let lines = summary.jobs.iter().enumerate();
    let visits = lines.filter_map(|(at, line)| {
        let shown = job::VisitShown {
            pictured: at < PICTURED,
            // Those of the job at hand stand on the page itself.
            ways: at_hand != Some(line.id),
        };
        Some(job::one(line, life.jobs.get(&line.id)?, life, shop, shown))
    });
    let visits = visits.collect_view();
    let put_on = parts(life);
    let rarer = view! {
        <head::Correct life=life.clone()/>
        <export::Export customer=customer_of(life)/>
        <forget::Forget customers=customers(life) jobs=jobs_of(life)/>
    };
    let more = view! { <summary>{words::pair::more_of_the_pair()}</summary> };
    view! {
        {head::name(life, &summary)}
        {ways::ways(&summary)}
        {beside::beside(life)}
        {visits}
        <same::Same life=life.clone() summary=summary.clone()/>
        {(!summary.open()).then(|| view! { <forecast::Forecast facts=PairFacts::of(life)/> })}
        <div class="folds">
            {fitted::fitted(&put_on, shop)}
            {wore::wore(series(life), shop.lengths())}
        </div>
        <ours::Ours life=life.clone() fitted=put_on came_back=!summary.open()/>
        {kept_fold("rarer".to_owned(), "unfolds rarer", more.into_any(), rarer.into_any())}
        {ways::dock(&summary)}
    }
}
