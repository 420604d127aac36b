//! The shop's price list by operation and kind of goods, edited in place.

use leptos::prelude::*;
use shared::log::body::field;
use shared::trade::Goods;
use shared::trade::operations::{self, operations};

use crate::parts::{Toggle, Typed};
use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};

/// All kinds of goods at once.
const ALL: &str = "";

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
        </section>
    }
}

#[component]
fn Table(shown: RwSignal<String>) -> impl IntoView {
    let shop = use_shop();
    // Joined into one text for the memo to compare, so that the table is redrawn only when it differs.
    let own = Memo::new(move |_| shop.own_operations().join("\n"));
    let table = move || {
        let shown = shown.get();
        let asked = |kind: &&Goods| shown == ALL || shown == kind.as_str();
        let columns: Vec<&'static Goods> = Goods::KNOWN.iter().filter(asked).collect();
        let heads = columns
            .iter()
            .map(|kind| view! { <th scope="col">{kind.words()}</th> })
            .collect_view();
        let trade = operations().filter(|one| columns.iter().any(|kind| one.fits(kind)));
        let own = own.get();
        let names = trade.map(|one| one.code).chain(own.lines());
        let rows = names.map(|operation| row(operation, &columns)).collect_view();
        view! { <table><thead><tr><th scope="col">{words::shop::prices::work()}</th>{heads}</tr></thead><tbody>{rows}</tbody></table> }
    };
    view! { <div class="wide" tabindex="0" role="group" aria-label=words::shop::prices::prices()>{table}</div> }
}

fn row(operation: &str, columns: &[&'static Goods]) -> AnyView {
    let known = operations::operation(operation);
    let cells = columns.iter().map(|kind| {
        let fits = known.is_none_or(|one| one.fits(kind));
        view! { <td>{fits.then(|| cell(operation, kind))}</td> }.into_any()
    });
    let cells = cells.collect_view();
    view! { <tr><th scope="row">{operations::name(operation).to_owned()}</th>{cells}</tr> }.into_any()
}

/// One price: the shop's own, or the norm as the placeholder of an empty field.
fn cell(operation: &str, kind: &'static Goods) -> impl IntoView + use<> {
    let (shop, session) = (use_shop(), use_session());
    let norm = shop.norm(operation, kind).map(|minor| shop.typed(minor));
    let label = words::shop::prices::operation_on_goods(operations::name(operation), kind.words());
    let (of, to) = (operation.to_owned(), operation.to_owned());
    let write = move |event: leptos::ev::Event| {
        set_price(
            shop,
            session,
            &field::price(&to, kind.as_str()),
            &event_target_value(&event),
        )
    };
    view! {
        <input inputmode="decimal" autocomplete="off" aria-label=label placeholder=norm
            prop:value=move || shop.price(&of, kind.as_str()).map(|minor| shop.money_kind().format(minor)).unwrap_or_default() on:change=write/>
    }
}

/// Saves a price; an empty text removes it, so that the norm applies again.
fn set_price(shop: ShopContext, session: Session, name: &str, text: &str) {
    let text = text.trim();
    let price = shop.reads(text);
    if price.is_none() && !text.is_empty() {
        return session.ask_to_correct(words::shop::prices::not_a_price(text));
    }
    // Nothing is saved if there was no price before and there is none now.
    if price.is_some() || shop.state().details.value(name).is_some() {
        shop.set(session, vec![(name.to_owned(), price.into())], || ());
    }
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
