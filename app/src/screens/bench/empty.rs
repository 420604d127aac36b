//! The Bench while nothing is in the shop.

use leptos::prelude::*;

use crate::parts::{Drawing, InstallHint};

/// How to begin: name and hours of the shop, the first pair, or a shop that has begun already.
#[component]
pub(super) fn EmptyBench() -> impl IntoView {
    view! {
        <InstallHint/>
        <section class="empty-bench">
            <Drawing name="empty_bench"/>
            <p>{words::bench::nothing_is_in_the_shop()}</p>
            <a class="button bench quiet" href="/shop">{words::bench::name_and_hours()}</a>
            <a class="button bench" href="/drop-off">{words::bench::take_a_pair_in()}</a>
            <a class="button bench quiet" href="/join">{words::bench::join_a_shop_that_has_begun()}</a>
        </section>
    }
}
