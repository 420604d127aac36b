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
            <AsFiles/>
        </section>
    }
}

/// Saves everything as files that other programs read, in one archive; and the way to what other programs have.
#[component]
fn AsFiles() -> impl IntoView {
    let session = use_session();
    let busy = RwSignal::new(false);
    let missing = RwSignal::new(0_usize);
    let save = move |_| {
        if busy.get_untracked() {
            return;
        }
        busy.set(true);
        spawn_local(async move {
            if let Some(phone) = session.phone() {
                match device::take_out(&phone).await {
                    Ok((file, done)) => {
                        let name = format!("waxend-{}.tar", today());
                        match file.download(&name, "application/x-tar") {
                            Ok(()) => {
                                missing.try_set(done.missing);
                                let (pairs, photographs) = (done.pairs, done.photographs);
                                session.tell(words::shop::take_out::files_made(&name, pairs, photographs));
                            }
                            Err(error) => session.complain(error),
                        }
                    }
                    Err(error) => session.complain(error),
                }
            }
            busy.try_set(false);
        });
    };
    let state = move || {
        let missing = missing.get();
        if busy.get() {
            return words::shop::take_out::files_being_made().to_owned();
        }
        match missing {
            0 => words::shop::take_out::what_the_files_are().to_owned(),
            some => words::shop::take_out::photographs_not_here(some),
        }
    };
    view! {
        <div class="row">
            <button class="quiet" on:click=save>{words::shop::take_out::everything_as_files()}</button>
            <a class="button quiet" href="/shop/bring">{words::shop::bring::bring_in_what_there_is()}</a>
        </div>
        <p class="quiet" role="status">{state}</p>
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
