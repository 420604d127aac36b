//! The screens, one folder or file each, and the routes between them.

use leptos::prelude::*;
use leptos_router::components::{Route, Router, Routes};
use leptos_router::path;

use crate::device::worker::Worker;

/// The whole app: the routes, and what every screen shares.
#[component]
pub fn App() -> impl IntoView {
    provide_context(Worker::start());
    view! {
        <Router>
            <main>
                <Routes fallback=|| view! { <p>"There is no such page."</p> }>
                    <Route path=path!("/") view=Bench/>
                </Routes>
            </main>
        </Router>
    }
}

/// What is in the shop, by station.
#[component]
fn Bench() -> impl IntoView {
    let worker = expect_context::<Worker>();
    view! {
        <h1 data-ready="bench">"Bench"</h1>
        <Show when=move || worker.ready_offline().get()>
            <p role="status">"Works without a network."</p>
        </Show>
        <Show when=move || worker.update_waiting().get()>
            <button on:click=move |_| worker.apply_update()>"Restart with the new version"</button>
        </Show>
    }
}
