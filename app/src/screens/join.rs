//! Join: this device becomes one of the shop's.

use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_navigate;
use shared::sync::messages::JoinRequest;

use crate::device::Phone;
use crate::device::network::Remote;
use crate::parts::Field;
use crate::session::{Opening, Session, use_session};

/// What a join link carries behind its `#`, which no server ever sees: `code=K7QM-2RTX`.
fn code_in_address() -> Option<String> {
    let hash = window().location().hash().ok()?;
    hash.trim_start_matches('#')
        .split('&')
        .find_map(|part| part.strip_prefix("code="))
        .map(str::to_owned)
}

/// Narrower than this, in CSS pixels, a device for fingers is a phone.
const PHONE_BELOW: f64 = 600.0;

/// What a device is called until somebody says better: what it is.
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
        (true, Some(width)) if width < PHONE_BELOW => "Phone",
        (true, _) => "Tablet",
        (false, _) => "Computer",
    }
}

/// By link or by typed code.
#[component]
pub fn Join() -> impl IntoView {
    let session = use_session();
    let sync = session.sync();
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
                Ok(()) => {
                    session.tell("This device has joined the shop.");
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
    // A link opened while this screen is already shown changes only what stands behind the `#`.
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
        <h1>"Join the shop"</h1>
        <form class="stack" on:submit=submit>
            <Field label="Code" value=code/>
            <Field label="What this device is called" value=name/>
            <Field label="The server's address" value=address kind="url"/>
            <button class="bench" type="submit" disabled=move || busy.get()>"Join"</button>
        </form>
        <p class="quiet">"Records already on this device stay and are brought to the shop."</p>
    }
}

/// Asks the server, and writes down what it answers. What was typed stays on the screen when it refuses.
async fn ask(session: Session, code: String, address: &str, name: String) -> Result<(), String> {
    let phone: Phone = session.phone().ok_or("The records are not open yet.")?;
    let membership = phone.membership().await.map_err(|error| error.to_string())?;

    let request = JoinRequest {
        code,
        device: phone.device(),
        name: name.clone(),
        shop: membership.shop,
    };
    let address = address.trim().trim_end_matches('/');
    let answer = Remote::new(address, None)
        .join(&request)
        .await
        .map_err(|failure| failure.to_string())?;
    phone
        .set_join(&answer, address, &name)
        .await
        .map_err(|error| error.to_string())
}
