//! Join: this device becomes one of the shop's.

use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_navigate;
use shared::log::body::Role;
use shared::sync::messages::JoinRequest;

use crate::device::Phone;
use crate::device::network::{Remote, public_url};
use crate::parts::Field;
use crate::session::{Opening, Session, use_session};
use crate::shop::use_shop;
use app_core::store::Membership;

/// The code in a join link. It is in the fragment (`#code=K7QM-2RTX`), which browsers do not send to a server.
fn code_in_address() -> Option<String> {
    let hash = window().location().hash().ok()?;
    hash.trim_start_matches('#')
        .split('&')
        .find_map(|part| part.strip_prefix("code="))
        .map(str::to_owned)
}

/// A touch device narrower than this, in CSS pixels, is taken for a phone.
const PHONE_BELOW: f64 = 600.0;

/// The default name of a device: its kind.
fn kind_of_device() -> &'static str {
    let asks = |query: &str| {
        window()
            .match_media(query)
            .ok()
            .flatten()
            .is_some_and(|query| query.matches())
    };
    let width = window().inner_width().ok().and_then(|width| width.as_f64());
    match (asks("(pointer: coarse)"), width) {
        (true, Some(width)) if width < PHONE_BELOW => words::join::phone(),
        (true, _) => words::join::tablet(),
        (false, _) => words::join::computer(),
    }
}

/// The form for joining by link or by a typed code.
#[component]
pub fn Join() -> impl IntoView {
    let session = use_session();
    let (sync, lock) = (session.sync(), use_shop().lock());
    let navigate = use_navigate();
    let code = RwSignal::new(code_in_address().unwrap_or_default());
    let address = RwSignal::new(window().location().origin().unwrap_or_default());
    let name = RwSignal::new(kind_of_device().to_owned());
    let busy = RwSignal::new(false);
    let join = move || {
        if busy.get_untracked() {
            return;
        }
        busy.set(true);
        let (code, address, name) = (
            code.get_untracked(),
            address.get_untracked(),
            name.get_untracked(),
        );
        let navigate = navigate.clone();
        spawn_local(async move {
            match ask(session, code, &address, name).await {
                Ok(role) => {
                    if role == Role::Repairer {
                        // The way out for whoever has forgotten the PIN.
                        lock.take_away();
                        session.tell(words::join::joined_as_repairers());
                    } else {
                        session.tell(words::join::joined_as_helpers());
                    }
                    session.changed();
                    sync.now();
                    navigate("/", Default::default());
                }
                Err(why) => session.complain(why),
            }
            busy.set(false);
        });
    };
    let by_link = join.clone();
    let tried = StoredValue::new(false);
    Effect::new(move |_| {
        if session.opening().get() == Opening::Open && !code.get_untracked().is_empty() && !tried.get_value()
        {
            tried.set_value(true);
            by_link();
        }
    });
    // Opening another join link while this screen is shown changes only the fragment.
    let by_next_link = join.clone();
    let listener = window_event_listener_untyped("hashchange", move |_| {
        if let Some(linked) = code_in_address() {
            code.set(linked);
            by_next_link();
        }
    });
    on_cleanup(move || listener.remove());
    let submit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        join();
    };
    view! {
        <h1>{words::join::join_the_shop()}</h1>
        <form class="stack" on:submit=submit>
            <Field label=words::join::code() value=code/>
            <Field label=words::join::name_of_this_device() value=name/>
            <Field label=words::join::servers_address() value=address kind="url"/>
            <button class="bench" type="submit" disabled=move || busy.get()>{words::join::join()}</button>
        </form>
        <p class="quiet">{words::join::records_stay()}</p>
    }
}

/// Asks the server to join, and stores its answer: as which role. If it refuses, what was typed stays.
async fn ask(session: Session, code: String, address: &str, name: String) -> Result<Role, String> {
    let phone: Phone = session.phone().ok_or_else(words::join::records_not_open_yet)?;
    let membership = phone.membership().await.map_err(|error| error.to_string())?;

    let request = JoinRequest {
        code,
        device: phone.device(),
        name: name.clone(),
        shop: membership.shop,
    };
    let address = address.trim().trim_end_matches('/');
    let answer = Remote::new(address, own_token(&membership, address))
        .join(&request)
        .await
        .map_err(|failure| failure.to_string())?;
    let joined = phone.set_join(&answer, address, &name).await;
    joined.map(|()| answer.role).map_err(|error| error.to_string())
}

/// The token of a device that has access already: the server lets no other one join again under the device's id. Only the
/// server that gave it out is told it.
fn own_token(membership: &Membership, address: &str) -> Option<String> {
    let own = public_url(membership.url.as_deref());
    membership.token.clone().filter(|_| own == address)
}
