//! The way back, at the top left of a screen about one thing.

use leptos::ev::MouseEvent;
use leptos::prelude::*;

use super::Drawing;

/// A link to the screen that was shown before; to the Bench if there was none, as after the app was opened by a link.
#[component]
pub fn BackLink() -> impl IntoView {
    let back = |event: MouseEvent| {
        if go_back() {
            event.prevent_default();
        }
    };
    view! { <a class="back-link" href="/" aria-label=words::parts::back() on:click=back><Drawing name="back"/></a> }
}

/// Goes to the page before in the history of the browser's tab; false if there is none.
fn go_back() -> bool {
    let Ok(history) = window().history() else {
        return false;
    };
    history.length().is_ok_and(|pages| pages > 1) && history.back().is_ok()
}
