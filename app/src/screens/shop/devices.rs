//! Bringing in another device.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::sync::messages::JoinCode;

use crate::device::network::Remote;
use crate::workshop::{use_stored, use_workshop};

/// A joined device can let another one in.
#[component]
pub fn Devices() -> impl IntoView {
    let workshop = use_workshop();
    let membership = use_stored(|phone| async move { phone.membership().await });
    let joined = move || membership.get().is_some_and(|membership| membership.joined());
    let code = RwSignal::new(None::<JoinCode>);
    let ask = move |_| {
        let Some(membership) = membership.get_untracked() else {
            return;
        };
        spawn_local(async move {
            let remote = Remote::of(&membership);
            match remote.join_code().await {
                Ok(answer) => code.set(Some(answer)),
                Err(failure) => workshop.complain(failure),
            }
        });
    };
    view! {
        <Show when=joined>
            <section class="card">
                <h2>"Devices"</h2>
                <button on:click=ask>"Let another device in"</button>
                {move || code.get().map(|code| view! {
                    <p>"On the other device open this app, choose Join and type "<strong class="code">{code.code}</strong>
                        ". It works once, for ten minutes."</p>
                })}
            </section>
        </Show>
    }
}
