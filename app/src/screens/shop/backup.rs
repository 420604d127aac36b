//! Backup to a file, and reading one, without a server.

use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::device::{self, share::download};
use crate::parts::today;
use crate::session::{use_live_query, use_session};
use app_core::store::Scope;

/// Saves everything, or what no server has yet, as one file; reads such a file.
#[component]
pub fn Backup() -> impl IntoView {
    let session = use_session();
    let save = move |scope: Scope| {
        spawn_local(async move {
            let Some(phone) = session.phone() else { return };
            match device::backup(&phone, scope).await {
                Ok(bytes) => {
                    let name = format!("waxend-{}.backup", today());
                    match download(&name, "application/octet-stream", &bytes) {
                        Ok(()) => session.tell(words::shop::backup::saved_among_downloads(&name)),
                        Err(error) => session.complain(error),
                    }
                }
                Err(error) => session.complain(error),
            }
        });
    };
    let counts = use_live_query(|phone| async move { Ok(phone.counts().await?) });
    let holds = move || {
        let pictures = counts.get().map(|counts| counts.blobs.to_string());
        words::shop::backup::what_it_holds(&pictures.unwrap_or_default())
    };
    view! {
        <section class="card stack">
            <h2>{words::shop::backup::backup()}</h2>
            <div class="row">
                <button on:click=move |_| save(Scope::All)>{words::shop::backup::save_everything()}</button>
                <button class="quiet" on:click=move |_| save(Scope::Unsynced)>{words::shop::backup::save_what_no_server_has()}</button>
            </div>
            <p class="quiet">{holds}</p>
            <Restore/>
        </section>
    }
}

#[component]
fn Restore() -> impl IntoView {
    let session = use_session();
    let input = NodeRef::<Input>::new();
    let restore = move |_| {
        let Some(file) = input.get().and_then(|element| element.files()?.get(0)) else {
            return;
        };
        spawn_local(async move {
            let Some(phone) = session.phone() else { return };
            let restored = match device::share::read_file(&file).await {
                Ok(bytes) => device::restore(&phone, &bytes)
                    .await
                    .map_err(|error| error.to_string()),
                Err(error) => Err(error.to_string()),
            };
            match restored {
                Ok(_) => {
                    session.changed();
                    session.tell(words::shop::backup::backup_is_on_this_device());
                }
                Err(why) => session.complain(why),
            }
        });
    };
    view! {
        <label class="file">
            {words::shop::backup::read_backup_in()}
            <input node_ref=input type="file" on:change=restore/>
        </label>
    }
}
