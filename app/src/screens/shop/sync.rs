//! Shop → Sync: what is on this device, what is on the server, and what is not sent yet.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::sync::messages::Status;

use crate::device::network::{Phase, Remote};
use crate::parts::{Field, on_day};
use crate::session::{use_live_query, use_session};
use app_core::store::StoreCounts;

/// Last contact, entries and photographs waiting, counts on both sides, and a button that reads everything from the
/// server again, which is always safe.
#[component]
pub fn Sync() -> impl IntoView {
    let session = use_session();
    let sync = session.sync();
    let counts = use_live_query(|phone| async move { Ok(phone.counts().await?) });
    let membership = use_live_query(|phone| async move { Ok(phone.membership().await?) });
    let joined = move || membership.get().is_some_and(|membership| membership.joined());
    let shut_out = move || {
        membership
            .get()
            .and_then(|membership| membership.shut_out)
            .map(|problem| problem.message)
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
    view! {
        <section class="card" aria-label="Sync">
            <h2>"Sync"</h2>
            {move || shut_out().map(|why| view! {
                <p class="bad" role="alert">{why}" Everything is still on this device. "<a href="/join">"Join again"</a>"."</p>
            })}
            <Show when=joined fallback=|| view! {
                <p>"This device works alone. "<a href="/join">"Join a shop"</a>" to bring devices together."</p>
            }>
                <p role="status" data-phase=move || phase_word(&sync.phase().get())>{move || phase(&sync.phase().get())}</p>
                <p class="quiet">"Last contact: "{move || sync.last_contact().get().map_or_else(|| "none yet".to_owned(), on_day)}</p>
                <div class="row">
                    <button on:click=move |_| sync.now()>"Sync now"</button>
                    <button class="quiet" on:click=again>"Read everything again"</button>
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
        Phase::Syncing => "Syncing.".to_owned(),
        Phase::Filling => "History is arriving; you can work meanwhile.".to_owned(),
        Phase::UpToDate => "Everything is sent and read.".to_owned(),
        Phase::Waiting(problem) => problem.as_ref().map_or_else(
            || "The server cannot be reached. Everything is kept here and sent later.".to_owned(),
            |problem| problem.message.clone(),
        ),
        Phase::Alone => "Not joined.".to_owned(),
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
            <dt>"Entries here"</dt><dd data-count="entries">{counts.entries}</dd>
            <dt>"waiting to be sent"</dt><dd data-count="unsent">{counts.unsent}</dd>
            <dt>"refused by the server"</dt><dd data-count="refused">{counts.refused}</dd>
            <dt>"Pictures here"</dt><dd data-count="blobs">{counts.blobs}</dd>
            <dt>"waiting to be sent"</dt><dd data-count="unsent-blobs">{counts.unsent_blobs}</dd>
            <dt>"refused by the server"</dt><dd data-count="parked">{counts.parked_blobs}</dd>
        </dl>
    }
}

/// The counts of what the server holds, fetched when a button is pressed.
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
    view! {
        <p>
            {move || status.get().map(|status| format!("On the server: {} entries, {} pictures. ", status.entries, status.blobs))}
            <button class="quiet" on:click=ask>"Ask the server what it holds"</button>
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
            <summary>"The server has a new address"</summary>
            <form class="stack" on:submit=save>
                <Field label="New address" value=address kind="url"/>
                <button type="submit">"Use this address"</button>
            </form>
        </details>
    }
}

/// What the server refused, with its reasons.
#[component]
fn Trouble() -> impl IntoView {
    let session = use_session();
    let sync = session.sync();
    let refused = use_live_query(|phone| async move { Ok(phone.refused().await?) });
    let parked = use_live_query(|phone| async move { Ok(phone.parked().await?) });
    let lines = move || {
        let entries = refused.get().into_iter().flatten().map(|record| {
            let why = record.refused.map(|problem| problem.message).unwrap_or_default();
            format!("{}: {why}", record.received.entry.kind)
        });
        let blobs = parked
            .get()
            .into_iter()
            .flatten()
            .map(|(_, problem)| format!("A picture: {}", problem.message));
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
            <h3>"Not taken by the server, kept here"</h3>
            <ul>{move || lines().into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
            <button class="quiet" on:click=retry>"Offer them again"</button>
        </Show>
    }
}
