//! The advice to install the app before the first record is made.

use leptos::prelude::*;

use crate::device::install::{Install, InstallWay};

/// How to install the app on the home screen; nothing where that is impossible or done. On some phones the installed
/// app has storage of its own, and what was recorded in the browser stays behind there, so this is shown before the
/// first record.
#[component]
pub fn InstallHint() -> impl IntoView {
    let install = expect_context::<Install>();
    move || match install.way().get() {
        InstallWay::Ask => Some(
            view! {
                <section class="card">
                    <p>{words::parts::install_first()}</p>
                    <button on:click=move |_| install.ask()>{words::parts::install()}</button>
                </section>
            }
            .into_any(),
        ),
        InstallWay::ByHand => Some(
            view! {
                <section class="card">
                    <p>{words::parts::install_by_hand()}</p>
                </section>
            }
            .into_any(),
        ),
        InstallWay::None | InstallWay::Done => None,
    }
}
