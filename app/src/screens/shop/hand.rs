//! Which hand holds this device.

use leptos::prelude::*;

use crate::device::screen::Hand as Held;
use crate::parts::Toggle;
use crate::selection::use_selection;

/// A choice that moves the controls to that hand's side.
#[component]
pub fn Hand() -> impl IntoView {
    let bench = use_selection();
    let on = Signal::derive(move || bench.hand().get() == Held::Left);
    let press = Callback::new(move |()| bench.change_hand());
    view! {
        <section class="card">
            <h2>{words::shop::hand::hand_that_holds_it()}</h2>
            <Toggle label=words::shop::hand::left_hand() on press/>
        </section>
    }
}
