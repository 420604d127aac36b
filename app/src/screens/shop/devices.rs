//! The shop's devices: listing them, letting another one join, shutting one out, and what helpers' devices have sent that
//! their role may not write.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::DeviceId;
use shared::log::body::Role;
use shared::sync::messages::{Device, JoinCode};
use shared::sync::version;

use super::kept_aside::KeptAside;
use crate::device::network::{Remote, public_url};
use crate::parts::on_day;
use crate::server_functions;
use crate::session::{use_live_query, use_session};
use crate::shop::use_shop;
use app_core::store::Membership;

/// The devices section of a device that has joined; for helpers only whose matter it is.
#[component]
pub fn Devices() -> impl IntoView {
    let shop = use_shop();
    let membership = use_live_query(|phone| async move { Ok(phone.membership().await?) });
    let joined = move || membership.get().filter(Membership::joined);
    let helper = Memo::new(move |_| shop.helper());
    move || {
        joined().map(|membership| {
            let membership = StoredValue::new(membership);
            let ways = if helper.get() || membership.with_value(Membership::is_helper) {
                view! { <p>{words::shop::devices::for_repairers()}</p> }.into_any()
            } else {
                view! { <LetIn membership/> <Joined membership/> <KeptAside membership/> }.into_any()
            };
            view! {
                <section class="card stack" aria-label=words::shop::devices::devices()>
                    <h2>{words::shop::devices::devices()}</h2>
                    {ways}
                </section>
            }
        })
    }
}

/// Asks for a code with which another device can join as a repairer's or as a helper's.
#[component]
fn LetIn(membership: StoredValue<Membership>) -> impl IntoView {
    let session = use_session();
    let code = RwSignal::new(None::<JoinCode>);
    let address = move || membership.with_value(|own| [&public_url(own.url.as_deref()), "/join"].concat());
    let ask = move |role: Role| {
        let remote = membership.with_value(Remote::of);
        spawn_local(async move {
            match remote.join_code(role).await {
                Ok(answer) => {
                    code.try_set(Some(answer));
                }
                Err(failure) => session.complain(failure),
            }
        });
    };
    view! {
        <p class="quiet">{words::shop::devices::what_each_may_do()}</p>
        <div class="row">
            <button on:click=move |_| ask(Role::Repairer)>{words::shop::devices::add_repairers_phone()}</button>
            <button on:click=move |_| ask(Role::Helper)>{words::shop::devices::add_helpers_phone()}</button>
        </div>
        {move || code.get().map(|code| view! {
            <p><strong>{lets_in(&code.role)}</strong></p>
            <p>{words::shop::devices::on_the_other_device_open()}<span class="address">{address()}</span>{words::shop::devices::and_type()}
                <strong class="code">{code.code}</strong>{words::shop::devices::works_once()}</p>
        })}
    }
}

/// Whose device a code lets in.
fn lets_in(role: &Role) -> &'static str {
    match role {
        Role::Repairer => words::shop::devices::code_for_repairers(),
        _ => words::shop::devices::code_for_helpers(),
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
        <button class="quiet" on:click=move |_| ask()>{words::shop::devices::which_have_joined()}</button>
        <ul class="plain" aria-label=words::shop::devices::joined()>{lines}</ul>
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
        role,
        ..
    } = device;
    let too_old = (revoked.is_none() && version::is_too_old(app.as_deref())).then(|| {
        let words = app.map_or_else(
            || words::shop::devices::too_old_of_unknown_version().to_owned(),
            |app| words::shop::devices::too_old(&app),
        );
        view! { <p class="bad">{words}</p> }
    });
    let stands = match (revoked, shut_out) {
        (Some(at), _) => words::shop::devices::was_shut_out(&on_day(at)),
        (None, None) => words::shop::devices::this_device().to_owned(),
        (None, Some(_)) => words::shop::devices::last_heard_of(&on_day(seen)),
    };
    let stands = match role {
        Role::Repairer => words::shop::devices::a_repairers(&stands),
        _ => words::shop::devices::a_helpers(&stands),
    };
    let way = shut_out.filter(|_| revoked.is_none()).map(|shut_out| {
        let label = words::shop::devices::shut_out_by_name(&name);
        view! {
            <details>
                <summary>{label.clone()}</summary>
                <p>{words::shop::devices::when_to_shut_out()}</p>
                <button class="quiet bad" aria-label=label on:click=move |_| shut_out.run(id)>{words::shop::devices::shut_it_out()}</button>
            </details>
        }
    });
    view! { <li><strong>{letters}</strong>" "{name}" "<span class="quiet">{stands}</span>{too_old}{way}</li> }
        .into_any()
}
