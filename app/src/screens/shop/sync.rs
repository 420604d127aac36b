//! Shop → Sync: what is on this device, what is on the server, and what is not sent yet.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::clock::days_ahead;
use shared::sync::messages::Status;

use super::entry_words::said_by;
use crate::device::network::{Phase, Remote};
use crate::parts::{Field, Wiped, on_day};
use crate::session::{use_live_query, use_session};
use crate::shop::use_shop;
use app_core::browser::clock::now;
use app_core::store::StoreCounts;

/// Last contact, entries and photographs waiting, counts on both sides, and a button that reads everything from the
/// server again, which is always safe.
#[component]
pub fn Sync() -> impl IntoView {
    let (session, shop) = (use_session(), use_shop());
    let sync = session.sync();
    let counts = use_live_query(|phone| async move { Ok(phone.counts().await?) });
    let shut_out = use_live_query(|phone| async move { Ok(phone.membership().await?.shut_out) });
    let still_here = move || {
        let problem = shut_out.get().flatten().filter(|_| !shop.wiped());
        problem.map(|problem| problem.message)
    };
    let again = move |_| {
        spawn_local(async move {
            let Some(phone) = session.phone() else { return };
            match phone.read_everything_again().await {
                Ok(()) => sync.now(),
                Err(error) => session.complain(error),
            }
        });
    };
    let contact = move || {
        sync.last_contact().get().map_or_else(
            || words::shop::sync::no_contact_yet().to_owned(),
            |at| words::shop::sync::last_contact(&on_day(at)),
        )
    };
    view! {
        <section class="card" aria-label=words::shop::sync::sync()>
            <h2>{words::shop::sync::sync()}</h2>
            <Wiped/>
            {move || still_here().map(|why| view! {
                <p class="bad" role="alert">{words::shop::sync::still_on_this_device(&why)}<a href="/join">{words::shop::sync::join_again()}</a>"."</p>
            })}
            <Show when=move || shop.joined() fallback=|| view! {
                <p>{words::shop::sync::works_alone()}<a href="/join">{words::shop::sync::join_a_shop()}</a>{words::shop::sync::to_bring_devices_together()}</p>
            }>
                <p role="status" data-phase=move || phase_word(&sync.phase().get())>{move || phase(&sync.phase().get())}</p>
                <p class="quiet">{contact}</p>
                <div class="row">
                    <button on:click=move |_| sync.now()>{words::shop::sync::sync_now()}</button>
                    <button class="quiet" on:click=again>{words::shop::sync::read_everything_again()}</button>
                </div>
                <ServerCounts/>
                <Move/>
            </Show>
            {move || counts.get().map(held)}
            <Trouble/>
        </section>
    }
}

fn phase(phase: &Phase) -> String {
    match phase {
        Phase::Syncing => words::shop::sync::syncing().to_owned(),
        Phase::Filling => words::shop::sync::history_is_arriving().to_owned(),
        Phase::UpToDate => words::shop::sync::up_to_date().to_owned(),
        Phase::Waiting(problem) => problem.as_ref().map_or_else(
            || words::shop::sync::server_cannot_be_reached().to_owned(),
            |problem| problem.message.clone(),
        ),
        Phase::Alone => words::shop::sync::not_joined().to_owned(),
    }
}

/// The phase as a word for tests and style sheets.
fn phase_word(phase: &Phase) -> &'static str {
    match phase {
        Phase::Syncing => "syncing",
        Phase::Filling => "filling",
        Phase::UpToDate => "up-to-date",
        Phase::Waiting(_) => "waiting",
        Phase::Alone => "alone",
    }
}

fn held(counts: StoreCounts) -> impl IntoView {
    view! {
        <dl class="figures">
            <dt>{words::shop::sync::entries_here()}</dt><dd data-count="entries">{counts.entries}</dd>
            <dt>{words::shop::sync::waiting_to_be_sent()}</dt><dd data-count="unsent">{counts.unsent}</dd>
            <dt>{words::shop::sync::refused_by_server()}</dt><dd data-count="refused">{counts.refused}</dd>
            <dt>{words::shop::sync::pictures_here()}</dt><dd data-count="blobs">{counts.blobs}</dd>
            <dt>{words::shop::sync::waiting_to_be_sent()}</dt><dd data-count="unsent-blobs">{counts.unsent_blobs}</dd>
            <dt>{words::shop::sync::refused_by_server()}</dt><dd data-count="parked">{counts.parked_blobs}</dd>
        </dl>
    }
}

/// The counts of what the server holds, fetched when a button is pressed. Its answer also has its time, which tells
/// whether this device's clock is ahead.
#[component]
fn ServerCounts() -> impl IntoView {
    let session = use_session();
    let status = RwSignal::new(None::<Status>);
    let ask = move |_| {
        spawn_local(async move {
            let Some(phone) = session.phone() else { return };
            let Ok(membership) = phone.membership().await else {
                return;
            };
            let remote = Remote::of(&membership);
            match remote.status().await {
                Ok(answer) => status.set(Some(answer)),
                Err(failure) => session.complain(failure),
            }
        });
    };
    let ahead = move || status.get().and_then(|status| days_ahead(now(), status.now));
    view! {
        {move || ahead().map(|days| view! {
            <p class="bad" role="alert" data-clock="ahead">{words::shop::sync::clock_ahead(days)}</p>
        })}
        <p>
            {move || status.get().map(|status| words::shop::sync::server_holds(status.entries, status.blobs))}
            <button class="quiet" on:click=ask>{words::shop::sync::ask_what_server_holds()}</button>
        </p>
    }
}

/// A form for when the server has moved to another address; the token stays valid.
#[component]
fn Move() -> impl IntoView {
    let session = use_session();
    let sync = session.sync();
    let address = RwSignal::new(String::new());
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        spawn_local(async move {
            let Some(phone) = session.phone() else { return };
            match phone.move_server(address.get_untracked().trim()).await {
                Ok(()) => {
                    session.changed();
                    sync.now();
                }
                Err(error) => session.complain(error),
            }
        });
    };
    view! {
        <details>
            <summary>{words::shop::sync::server_has_new_address()}</summary>
            <form class="stack" on:submit=save>
                <Field label=words::shop::sync::new_address() value=address kind="url"/>
                <button type="submit">{words::shop::sync::use_this_address()}</button>
            </form>
        </details>
    }
}

/// What the server refused, with its reasons.
#[component]
fn Trouble() -> impl IntoView {
    let (session, shop) = (use_session(), use_shop());
    let sync = session.sync();
    let refused = use_live_query(|phone| async move { Ok(phone.refused().await?) });
    let parked = use_live_query(|phone| async move { Ok(phone.parked().await?) });
    let lines = move || {
        let entries = refused.get().into_iter().flatten().map(|record| {
            let why = record.refused.map(|problem| problem.message).unwrap_or_default();
            words::shop::sync::entry_not_taken(&said_by(&record.received.entry, shop), &why)
        });
        let blobs = parked
            .get()
            .into_iter()
            .flatten()
            .map(|(_, problem)| words::shop::sync::picture_not_taken(&problem.message));
        entries.chain(blobs).collect::<Vec<_>>()
    };
    let retry = move |_| {
        spawn_local(async move {
            let Some(phone) = session.phone() else { return };
            match phone.retry_refused().await {
                Ok(()) => {
                    session.changed();
                    sync.now();
                }
                Err(error) => session.complain(error),
            }
        });
    };
    view! {
        <Show when=move || !lines().is_empty()>
            <h3>{words::shop::sync::not_taken_by_server()}</h3>
            <ul>{move || lines().into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
            <button class="quiet" on:click=retry>{words::shop::sync::offer_again()}</button>
        </Show>
    }
}
