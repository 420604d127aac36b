//! The cells of the price list.

use leptos::prelude::*;
use shared::trade::Goods;

use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};

/// All kinds of goods at once.
pub(super) const ALL: &str = "";

/// The kinds of goods that are shown.
pub(super) fn columns(shown: &str) -> Vec<&'static Goods> {
    let asked = |kind: &&Goods| shown == ALL || shown == kind.as_str();
    Goods::KNOWN.iter().filter(asked).collect()
}

/// The heads of the columns.
pub(super) fn heads(columns: &[&'static Goods]) -> impl IntoView + use<> {
    let heads = columns
        .iter()
        .map(|kind| view! { <th scope="col">{kind.words()}</th> });
    heads.collect_view()
}

/// One price: the shop's own from its plain field `name`; while there is none, what applies instead as the placeholder.
pub(super) fn cell(name: String, label: String, instead: Signal<String>) -> impl IntoView + use<> {
    let (shop, session) = (use_shop(), use_session());
    let of = name.clone();
    let own = move || {
        let own = shop.state().amount(&of);
        own.map(|minor| shop.money_kind().format(minor))
            .unwrap_or_default()
    };
    let write = move |event: leptos::ev::Event| set_price(shop, session, &name, &event_target_value(&event));
    view! {
        <input inputmode="decimal" autocomplete="off" aria-label=label placeholder=move || instead.get()
            prop:value=own on:change=write/>
    }
}

/// Saves a price; an empty text removes it, so that what applied before does again.
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
