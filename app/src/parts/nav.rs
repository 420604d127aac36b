//! The four places, under the thumb.

use leptos::prelude::*;
use leptos_router::components::A;

/// The way between the main screens.
#[component]
pub fn Nav() -> impl IntoView {
    view! {
        <nav class="places" aria-label="Places">
            <A href="/" exact=true>"Bench"</A>
            <A href="/drop-off">"Drop-off"</A>
            <A href="/records">"Records"</A>
            <A href="/shop">"Shop"</A>
        </nav>
    }
}
