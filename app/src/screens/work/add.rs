//! Adding work to a job: at a price, or at no charge and why.

use leptos::prelude::*;
use shared::log::body::OperationCode;
use shared::log::body::{Agreed, GiftWhy};
use shared::price::minor::Minor;
use shared::trade::operations;

use super::WorkJob;
use crate::parts::{Field, OperationChoice};
use crate::selection::use_selection;
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::commands;

/// Who pays: label, and reason if it is at no charge.
fn who_pays() -> [(&'static str, Option<GiftWhy>); 3] {
    [
        (words::work::at_this_price(), None),
        (words::work::no_charge_needed(), Some(GiftWhy::Needed)),
        (words::work::no_charge_my_choice(), Some(GiftWhy::MyChoice)),
    ]
}

/// The form: the operation, then who pays. The amount is its price, or the worth of the gift. A helper sees no amounts;
/// the price of the price list applies.
#[component]
pub fn AddWork(known: WorkJob) -> impl IntoView {
    let (bench, session, shop) = (use_selection(), use_session(), use_shop());
    let operation = RwSignal::new(Some(OperationCode::from("clean_condition_polish")));
    let amount = RwSignal::new(String::new());
    let listed = move |code: &str| {
        let goods = known.with(|known| {
            Some(
                known
                    .as_ref()?
                    .life
                    .pair
                    .goods_code()
                    .unwrap_or_default()
                    .to_owned(),
            )
        });
        let goods = goods.unwrap_or_default();
        shop.listed(code, &goods)
    };
    Effect::new(move |_| {
        amount.set(
            operation
                .get()
                .and_then(|code| listed(&code))
                .map(|minor| shop.typed(minor))
                .unwrap_or_default(),
        )
    });
    let add = move |why: Option<GiftWhy>| {
        let Some(job) = known.with_untracked(|known| known.as_ref().map(|known| known.job)) else {
            return;
        };
        let Some(code) = operation.get_untracked() else {
            return;
        };
        let typed = amount.get_untracked();
        // A gift without a worth counts as worth nothing in the figures.
        let minor = match (shop.reads(&typed), &why) {
            (Some(minor), _) => minor,
            (None, Some(_)) if typed.trim().is_empty() => Minor::ZERO,
            _ => return session.ask_to_correct(words::work::not_an_amount()),
        };
        let said = words::work::added(operations::name(&code));
        let line = match why {
            None => Agreed::at(code, minor),
            Some(why) => Agreed::given(code, why, minor),
        };
        bench.act(vec![commands::agree(job, line)], said);
    };
    let ways = who_pays().map(|(label, why)| {
        view! { <button class="bench" on:click=move |_| add(why.clone())>{label}</button> }
    });
    view! {
        <details class="card">
            <summary>{words::work::add_work()}</summary>
            <div class="stack">
                <OperationChoice label=words::work::work_to_add() value=operation/>
                <Show when=move || !shop.helper()>
                    <Field label=words::work::price_or_worth() value=amount inputmode="decimal"/>
                </Show>
                <div class="choices">{ways.into_iter().collect_view()}</div>
            </div>
        </details>
    }
}
