//! What a device says after it was shut out and has deleted what the server has.

use leptos::prelude::*;

use crate::shop::use_shop;

/// That it was shut out, what was deleted and what is kept. Nothing on any other device.
#[component]
pub fn Wiped() -> impl IntoView {
    let shop = use_shop();
    view! {
        <Show when=move || shop.wiped()>
            <p class="bad" role="alert">{words::shop::sync::shut_out_and_wiped()}<a href="/join">{words::shop::sync::join_again()}</a>"."</p>
        </Show>
    }
}
