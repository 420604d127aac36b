//! Choosing which shoe of a pair something is about.

use leptos::prelude::*;
use shared::log::body::Side;

use super::Toggle;

/// Both, left or right.
#[component]
pub fn Sides(
    /// The label, for screen readers.
    #[prop(into)]
    label: Signal<String>,
    /// What is chosen.
    side: Signal<Side>,
    /// What a tap does.
    choose: Callback<Side>,
    /// See [`Toggle`].
    #[prop(optional)]
    about: Signal<Option<String>>,
) -> impl IntoView {
    let sides = [
        (Side::Both, words::parts::both_shoes()),
        (Side::Left, words::parts::left_shoe()),
        (Side::Right, words::parts::right_shoe()),
    ];
    let chips = sides.map(|(this, words)| {
        let shown = this.clone();
        let on = Signal::derive(move || side.get() == shown);
        view! { <Toggle label=words on about press=Callback::new(move |()| choose.run(this.clone()))/> }
    });
    view! { <div class="chips" role="group" aria-label=move || label.get()>{chips.collect_view()}</div> }
}
