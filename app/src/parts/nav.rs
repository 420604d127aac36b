//! The navigation bar with the four main screens, within reach of the thumb.

use leptos::prelude::*;
use leptos_router::components::A;

/// Links to the main screens.
#[component]
pub fn Nav() -> impl IntoView {
    view! {
        <nav class="places" aria-label=words::parts::screens()>
            <A href="/" exact=true>{words::parts::bench()}</A>
            <A href="/drop-off">{words::parts::drop_off()}</A>
            <A href="/records">{words::parts::records()}</A>
            <A href="/shop">{words::parts::shop()}</A>
        </nav>
    }
}
