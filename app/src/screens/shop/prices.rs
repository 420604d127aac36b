//! The shop's price list by operation and kind of goods, edited in place.

mod cell;
mod goods;
mod packages;
mod rows;

use leptos::prelude::*;
use shared::log::body::field;
use shared::trade::Goods;
use shared::trade::operations::operations;

use self::cell::{ALL, columns, heads};
use self::goods::CounterGoods;
use self::packages::Packages;
use self::rows::rows;
use crate::parts::{Toggle, Typed};
use crate::session::use_session;
use crate::shop::use_shop;

/// The table: one kind at a time on a phone, or all of them side by side.
#[component]
pub fn PriceList() -> impl IntoView {
    let shop = use_shop();
    let shown = RwSignal::new(Goods::KNOWN[0].as_str().to_owned());
    let kinds = Goods::KNOWN.iter().map(|kind| (kind.as_str(), kind.words()));
    let kinds = kinds.chain([(ALL, words::shop::prices::all_kinds())]);
    let chips = kinds.map(|(kind, words)| {
        let on = Signal::derive(move || shown.get() == kind);
        view! { <Toggle label=words on press=Callback::new(move |()| shown.set(kind.to_owned()))/> }
    });
    let chips = chips.collect_view();
    view! {
        <Show when=move || shop.helper()><p>{words::shop::prices::for_repairers()}</p></Show>
        <section class="price-list" hidden=move || shop.helper()>
            <h1>{words::shop::prices::price_list()}</h1>
            <p class="quiet">{words::shop::prices::slanted_are_norms()}</p>
            <div class="chips" role="group" aria-label=words::shop::prices::kind()>{chips}</div>
            <Table shown/>
            <Add shown/>
            <Packages shown/>
            <CounterGoods/>
        </section>
    }
}

#[component]
fn Table(shown: RwSignal<String>) -> impl IntoView {
    let shop = use_shop();
    // Joined into one text for the memo to compare, so that the table is redrawn only when it differs.
    let own = Memo::new(move |_| shop.own_operations().join("\n"));
    let table = move || {
        let columns = columns(&shown.get());
        let trade = operations().filter(|one| columns.iter().any(|kind| one.fits(kind)));
        let own = own.get();
        let names = trade.map(|one| one.code).chain(own.lines());
        let rows = names.map(|operation| rows(operation, &columns)).collect_view();
        view! {
            <table>
                <thead><tr><th scope="col">{words::shop::prices::work()}</th>{heads(&columns)}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
        }
    };
    view! { <div class="wide" tabindex="0" role="group" aria-label=words::shop::prices::prices()>{table}</div> }
}

/// Adding an operation of the shop's own: it is in the list once it has a price.
#[component]
fn Add(shown: RwSignal<String>) -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let (words, price) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let add = move |_| {
        // A slash separates operation and kind in the name of a price.
        let operation = words.get().trim().replace('/', " ");
        let Some(minor) = shop.reads(&price.get()).filter(|_| !operation.is_empty()) else {
            return session.ask_to_correct(words::shop::prices::own_work_needs_name_and_price());
        };
        let shown = shown.get();
        let kind = if shown == ALL {
            Goods::KNOWN[0].as_str()
        } else {
            shown.as_str()
        };
        let name = field::price(&operation, kind);
        shop.set(session, vec![(name, minor.into())], move || {
            words.set(String::new());
            price.set(String::new());
        });
    };
    view! {
        <div class="row">
            <Typed label=words::shop::prices::own_work().to_owned() value=words.into() typed=Callback::new(move |text| words.set(text))/>
            <Typed label=words::shop::prices::its_price().to_owned() inputmode="decimal" value=price.into()
                typed=Callback::new(move |text| price.set(text))/>
            <button class="quiet" on:click=add>{words::shop::prices::add_to_list()}</button>
        </div>
    }
}
