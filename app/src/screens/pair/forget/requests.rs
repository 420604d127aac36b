//! What is to be erased because a repairer asked for it, and calling it off.

use leptos::prelude::*;
use shared::log::body::Body;
use shared::log::{EntryId, ReceivedEntry, Subject, UnixMs};
use shared::sync::messages::ERASURE_WAITS_MS;

use crate::device::{DeviceError, Phone};
use crate::parts::on_day;
use crate::session::{use_live_query, use_session};
use app_core::commands::records::call_off;

/// A request for an erasure that stands. One for a photograph has two entries: the full picture and the small one.
#[derive(Debug, Clone, PartialEq)]
struct StandingRequest {
    subject: Subject,
    entries: Vec<EntryId>,
    /// Whether a photograph or voice note is to be destroyed, and not the subject erased.
    of_blob: bool,
    made: UnixMs,
    /// When the server received it.
    received: Option<UnixMs>,
}

/// That the customer's erasure waits for the server; and the requests that stand, each with its day and a way to call it
/// off.
#[component]
pub fn Requests(subjects: StoredValue<Vec<Subject>>) -> impl IntoView {
    let found = use_live_query(move |phone| {
        let subjects = subjects.get_value();
        async move {
            let unsent = phone.erasures_waiting().await?.subjects;
            let waits = subjects.iter().any(|subject| unsent.contains(&subject.id));
            Ok((waits, requests(&phone, &subjects).await?))
        }
    });
    move || {
        let (waits, standing) = found.get()?;
        let asked = (!standing.is_empty()).then(|| {
            view! {
                <p>{words::pair::erasure_is_asked_for()}</p>
                <ul class="plain stack">{standing.into_iter().map(line).collect_view()}</ul>
            }
        });
        (waits || asked.is_some()).then(|| {
            view! {
                <section class="card stack" aria-label=words::pair::to_be_erased()>
                    <h2>{words::pair::to_be_erased()}</h2>
                    {waits.then(|| view! { <p>{words::pair::erased_once_the_server_has_it()}</p> })}
                    {asked}
                </section>
            }
        })
    }
}

fn line(request: StandingRequest) -> AnyView {
    let session = use_session();
    let said = said(&request);
    let StandingRequest { subject, entries, .. } = request;
    let press = move |_| {
        let drafts = entries.iter().map(|entry| call_off(subject.clone(), *entry));
        session.save_and(drafts.collect(), move |_| {
            session.sync().now();
            session.tell(words::pair::called_off());
        });
    };
    view! {
        <li class="row between line">
            <span>{said}</span> <button on:click=press>{words::pair::call_it_off()}</button>
        </li>
    }
    .into_any()
}

/// The request in words, with its day.
fn said(request: &StandingRequest) -> String {
    let asked = on_day(request.made);
    let due = request.received.map(|at| on_day(UnixMs(at.0 + ERASURE_WAITS_MS)));
    match (request.of_blob, due) {
        (false, None) => words::pair::customer_asked_for(&asked),
        (false, Some(due)) => words::pair::customer_erased_from(&asked, &due),
        (true, None) => words::pair::photograph_asked_for(&asked),
        (true, Some(due)) => words::pair::photograph_destroyed_from(&asked, &due),
    }
}

/// The requests about these subjects that nobody has called off and that have not been fulfilled.
async fn requests(phone: &Phone, subjects: &[Subject]) -> Result<Vec<StandingRequest>, DeviceError> {
    let mut requests: Vec<StandingRequest> = Vec::new();
    for subject in subjects {
        let about = phone.entries_about(subject.id).await?;
        for held in about.iter().filter(|held| held.entry.subject == *subject) {
            let Body::ErasureAsked(asked) = Body::of(&held.entry) else {
                continue;
            };
            let fulfilled = match &asked.blob {
                Some(hash) => phone.is_destroyed(hash).await?,
                None => false,
            };
            if fulfilled || is_called_off(&about, held.entry.id) {
                continue;
            }
            let (of_blob, made) = (asked.blob.is_some(), held.entry.made_at.utc);
            let same = |one: &&mut StandingRequest| {
                one.subject == *subject && one.of_blob == of_blob && one.made == made
            };
            match requests.iter_mut().find(same) {
                Some(request) => request.entries.push(held.entry.id),
                None => requests.push(StandingRequest {
                    subject: subject.clone(),
                    entries: vec![held.entry.id],
                    of_blob,
                    made,
                    received: held.received,
                }),
            }
        }
    }
    Ok(requests)
}

/// Whether one of these entries retracts another.
fn is_called_off(about: &[ReceivedEntry], request: EntryId) -> bool {
    about.iter().any(|held| match Body::of(&held.entry) {
        Body::Retracted(retracted) => retracted.entry == request,
        _ => false,
    })
}
