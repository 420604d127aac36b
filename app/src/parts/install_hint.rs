//! The advice to install the app before the first record is made.

use leptos::prelude::*;

use crate::device::install::{Install, InstallWay};

/// How to install the app on the home screen; nothing where that is impossible or done. On some phones the installed
/// app has storage of its own, and what was recorded in the browser stays behind there, so this is shown before the
/// first record.
#[component]
pub fn InstallHint() -> impl IntoView {
    let install = expect_context::<Install>();
    move || {
        match install.way().get() {
        InstallWay::Ask => Some(
            view! {
                <section class="card">
                    <p>"Put Waxend on the home screen first: it then starts without a network and keeps its records."</p>
                    <button on:click=move |_| install.ask()>"Put it on the home screen"</button>
                </section>
            }
            .into_any(),
        ),
        InstallWay::ByHand => Some(
            view! {
                <section class="card">
                    <p>"Before the first record: tap Share, then Add to Home Screen, and open Waxend from there. It has
                        records of its own there; what is noted here before would stay behind in the browser."</p>
                </section>
            }
            .into_any(),
        ),
        InstallWay::None | InstallWay::Done => None,
    }
    }
}
