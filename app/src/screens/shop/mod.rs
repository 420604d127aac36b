//! Shop settings: people, prices, name, devices, and how safe the records are.

mod backup;
mod books;
mod bring;
mod cement;
mod check;
mod details;
mod devices;
pub(super) mod entry_words;
mod form;
mod hand;
mod hidden;
mod hours;
mod kept_aside;
mod language;
mod lock;
mod measures;
mod money;
mod people;
mod prices;
mod profitability;
mod redone;
mod shelf;
mod storage;
mod sync;

use leptos::prelude::*;

use crate::shop::use_shop;

pub use books::TheBooks;
pub use bring::Bring;
pub use hidden::Hidden;
pub use prices::PriceList;
pub use profitability::ProfitabilityScreen;
pub use shelf::ShelfScreen;

/// All settings of the shop.
#[component]
pub fn Shop() -> impl IntoView {
    let shop = use_shop();
    view! {
        <h1>{words::shop::shop()}</h1>
        <people::People/>
        <shelf::ShelfLink/>
        <Show when=move || !shop.helper()>
            <p class="row">
                <a class="button" href="/shop/prices">{words::shop::prices::price_list()}</a>
                <a class="button" href="/shop/truth">{words::books::what_each_job_earns()}</a>
                <a class="button" href="/shop/books">{words::books::books()}</a>
            </p>
            <redone::WorkAgain/>
            <money::Money/>
            <hours::OpeningHours/>
            <check::FinalCheck/>
            <cement::Cements/>
        </Show>
        <sync::Sync/>
        <devices::Devices/>
        // Persons who may not see prices get no file that contains them.
        <Show when=move || !shop.helper()>
            <details::Details/>
            <backup::Backup/>
            <measures::Measures/>
            <language::ChooseLanguage/>
        </Show>
        <hand::Hand/>
        <storage::Storage/>
    }
}
