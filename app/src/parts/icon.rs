//! Icons.

use leptos::prelude::*;

/// A camera, drawn in the colour of the text around it.
pub fn camera_icon() -> impl IntoView {
    view! {
        <svg class="icon" viewBox="0 0 24 24" aria-hidden="true">
            <path d="M8.5 5 7 7H4q-2 0-2 2v8q0 2 2 2h16q2 0 2-2V9q0-2-2-2h-3l-1.5-2Z"></path>
            <circle cx="12" cy="13" r="4"></circle>
        </svg>
    }
}
