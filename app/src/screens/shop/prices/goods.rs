//! The prices of goods that are sold over the counter.

use leptos::prelude::*;
use shared::log::body::field;

use super::cell::cell;
use crate::parts::Typed;
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::commands::listed_goods;

/// The list of goods, each with the price of one piece, and a form for others.
#[component]
pub(super) fn CounterGoods() -> impl IntoView {
    let shop = use_shop();
    // Joined into one text for the memo to compare, so that the list is redrawn only when goods come or go.
    let names = Memo::new(move |_| {
        let listed = listed_goods(&shop.state());
        let names: Vec<String> = listed.into_iter().map(|(what, _)| what).collect();
        names.join("\n")
    });
    let rows = move || names.get().lines().map(row).collect_view();
    view! {
        <section class="card stack" aria-label=words::parts::sundries()>
            <h2>{words::parts::sundries()}</h2>
            <p class="quiet">{words::shop::prices::what_goods_are()}</p>
            <ul class="plain lines" aria-label=words::shop::prices::goods_on_list()>{rows}</ul>
            <Add/>
        </section>
    }
}

/// One line of the list. Without a price it is off the list.
fn row(what: &str) -> AnyView {
    let price = cell(
        field::goods_price(what),
        words::shop::prices::price_of_one_of(what),
        Signal::derive(String::new),
    );
    view! { <li class="row between"><span>{what.to_owned()}</span>{price}</li> }.into_any()
}

/// Puts goods on the list.
#[component]
fn Add() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let (what, price) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let add = move |_| {
        let goods = what.get_untracked().trim().to_owned();
        let minor = shop.reads(&price.get_untracked());
        let Some(minor) = minor.filter(|_| !goods.is_empty()) else {
            return session.ask_to_correct(words::shop::prices::goods_need_name_and_price());
        };
        let field = (field::goods_price(&goods), minor.into());
        shop.set(session, vec![field], move || {
            what.set(String::new());
            price.set(String::new());
        });
    };
    view! {
        <div class="row">
            <Typed label=words::shop::prices::what_is_sold().to_owned() value=what.into()
                typed=Callback::new(move |text| what.set(text))/>
            <Typed label=words::shop::prices::price_of_one().to_owned() inputmode="decimal" value=price.into()
                typed=Callback::new(move |text| price.set(text))/>
            <button class="quiet" on:click=add>{words::shop::prices::add_goods_to_list()}</button>
        </div>
    }
}
