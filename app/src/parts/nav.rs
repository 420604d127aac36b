//! The navigation bar with the four main screens, within reach of the thumb.

use leptos::prelude::*;
use leptos_router::components::A;

/// Links to the main screens.
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
