//! A line drawing in a list or on a tile.

use leptos::prelude::*;

use crate::device::drawings::Drawings;

/// A drawing by its name, which is the code of a kind of goods, `station_` and the code of a station, or another name of a
/// file in `app/assets/drawings`. It takes its place before it is loaded, so that nothing moves. It says nothing to a
/// screen reader: the words stand beside it.
#[component]
pub fn Drawing(
    /// Its name.
    #[prop(into)]
    name: Signal<String>,
) -> impl IntoView {
    let drawings: Drawings = expect_context();
    let svg = move || name.with(|name| drawings.named(name)).unwrap_or_default();
    view! { <span class="drawing" aria-hidden="true" inner_html=svg></span> }
}
