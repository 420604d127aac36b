//! Shop: its people, its prices, what it is called, its devices, and how safe its records are.

mod backup;
mod check;
mod details;
mod devices;
mod hand;
mod measures;
mod money;
mod people;
mod prices;
mod storage;
mod sync;

use leptos::prelude::*;

use crate::shop::use_shop;

pub use prices::PriceList;

/// Everything about the shop that is not about one pair.
#[component]
pub fn Shop() -> impl IntoView {
    let shop = use_shop();
    view! {
        <h1>"Shop"</h1>
        <people::People/>
        <Show when=move || !shop.helper()>
            <p><a class="button" href="/shop/prices">"Price list"</a></p>
            <money::Money/>
            <check::FinalCheck/>
        </Show>
        <sync::Sync/>
        // Who may not see prices is not given a file that holds them, nor the way in for another device.
        <Show when=move || !shop.helper()>
            <devices::Devices/>
            <details::Details/>
            <backup::Backup/>
        </Show>
        <measures::Measures/>
        <hand::Hand/>
        <storage::Storage/>
    }
}
