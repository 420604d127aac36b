//! The shop's devices: listing them, letting another one join, shutting one out.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::DeviceId;
use shared::sync::messages::{Device, JoinCode};
use shared::sync::version;

use crate::device::network::{Remote, public_url};
use crate::parts::on_day;
use crate::server_functions;
use crate::session::{use_live_query, use_session};
use app_core::store::Membership;

/// The devices section of a device that has joined.
#[component]
pub fn Devices() -> impl IntoView {
    let membership = use_live_query(|phone| async move { Ok(phone.membership().await?) });
    let joined = move || membership.get().filter(Membership::joined);
    move || {
        joined().map(|membership| {
            let membership = StoredValue::new(membership);
            view! {
                <section class="card stack" aria-label="Devices">
                    <h2>"Devices"</h2>
                    <LetIn membership/>
                    <Joined membership/>
                </section>
            }
        })
    }
}

/// Asks for a code with which another device can join.
#[component]
fn LetIn(membership: StoredValue<Membership>) -> impl IntoView {
    let session = use_session();
    let code = RwSignal::new(None::<JoinCode>);
    let address = move || membership.with_value(|own| [&public_url(own.url.as_deref()), "/join"].concat());
    let ask = move |_| {
        let remote = membership.with_value(Remote::of);
        spawn_local(async move {
            match remote.join_code().await {
                Ok(answer) => {
                    code.try_set(Some(answer));
                }
                Err(failure) => session.complain(failure),
            }
        });
    };
    view! {
        <button on:click=ask>"Let another device in"</button>
        {move || code.get().map(|code| view! {
            <p>"On the other device open "<span class="address">{address()}</span>" and type "
                <strong class="code">{code.code}</strong>". It works once, for ten minutes."</p>
        })}
    }
}

/// Every device that has joined, fetched from the server when a button is pressed.
#[component]
fn Joined(membership: StoredValue<Membership>) -> impl IntoView {
    let session = use_session();
    let known = RwSignal::new(Vec::<Device>::new());
    let ask = move || {
        let (url, token) = membership.with_value(|own| (own.url.clone(), own.token.clone()));
        spawn_local(async move {
            server_functions::ask_at(url.as_deref().unwrap_or_default(), token);
            match server_functions::devices().await {
                Ok(devices) => {
                    known.try_set(devices);
                }
                Err(refused) => session.complain(refused),
            }
        });
    };
    let shut_out = Callback::new(move |device: DeviceId| {
        spawn_local(async move {
            match server_functions::shut_out(device).await {
                Ok(()) => ask(),
                Err(refused) => session.complain(refused),
            }
        });
    });
    let lines = move || {
        let own = membership.with_value(|own| own.letters.clone());
        let lines = known.get().into_iter().map(|device| {
            let own = own.as_ref() == Some(&device.letters);
            line(device, (!own).then_some(shut_out))
        });
        lines.collect_view()
    };
    view! {
        <button class="quiet" on:click=move |_| ask()>"Which devices have joined"</button>
        <ul class="plain" aria-label="Joined">{lines}</ul>
    }
}

/// One device; `shut_out` is `None` for this device itself.
fn line(device: Device, shut_out: Option<Callback<DeviceId>>) -> AnyView {
    let Device {
        id,
        name,
        letters,
        seen,
        revoked,
        app,
        ..
    } = device;
    let too_old = (revoked.is_none() && version::is_too_old(app.as_deref())).then(|| {
        let which = app.map_or_else(
            || "an unknown version".to_owned(),
            |app| ["version ", &app].concat(),
        );
        let words = [
            "Too old: its app is of ",
            &which,
            ". On it, with a network, tap 'Restart with the new version'.",
        ];
        view! { <p class="bad">{words.concat()}</p> }
    });
    let stands = match (revoked, shut_out) {
        (Some(at), _) => ["shut out ", &on_day(at)].concat(),
        (None, None) => "this device".to_owned(),
        (None, Some(_)) => ["last heard of ", &on_day(seen)].concat(),
    };
    let way = shut_out.filter(|_| revoked.is_none()).map(|shut_out| {
        let label = ["Shut ", &name, " out"].concat();
        view! {
            <details>
                <summary>{label.clone()}</summary>
                <p>"For a device that is lost or given away. What it has sent stays; what it has not sent yet stays on it,
                    and it can be let in again with a new code."</p>
                <button class="quiet bad" aria-label=label on:click=move |_| shut_out.run(id)>"Shut it out"</button>
            </details>
        }
    });
    view! { <li><strong>{letters}</strong>" "{name}" "<span class="quiet">{stands}</span>{too_old}{way}</li> }
        .into_any()
}
