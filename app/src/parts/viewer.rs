//! A photograph in full, over whatever screen it was tapped on.

use leptos::html::Dialog;
use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::body::Blob;
use shared::log::{Subject, SubjectId, SubjectKind};

use crate::device::apart;
use crate::device::picture::use_object_url;
use crate::device::pictures::fetched;
use crate::device::store::Size;
use crate::shop::use_shop;
use crate::workshop::{use_stored, use_workshop};

/// A photograph to look at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Looked {
    /// The full picture.
    pub full: Blob,
    /// The job it was taken on.
    pub job: SubjectId,
    /// What it shows.
    pub caption: String,
}

/// What is being looked at. Provided as a context; set it to show a photograph.
#[derive(Clone, Copy)]
pub struct Viewer(RwSignal<Option<Looked>>);

impl Viewer {
    /// Nothing is looked at.
    #[must_use]
    pub fn new() -> Self {
        Self(RwSignal::new(None))
    }

    /// Shows a photograph in full.
    pub fn show(self, looked: Looked) {
        self.0.set(Some(looked));
    }
}

impl Default for Viewer {
    fn default() -> Self {
        Self::new()
    }
}

/// The place where photographs are shown in full.
#[component]
pub fn PhotographViewer() -> impl IntoView {
    let Viewer(looked) = expect_context();
    let dialog = NodeRef::<Dialog>::new();
    let bytes = use_stored(move |phone| {
        let looked = looked.get();
        async move {
            match looked {
                Some(looked) => fetched(&phone, &looked.full.sha256, looked.job, Size::Full).await,
                None => Ok(None),
            }
        }
    });
    let url = use_object_url(move || {
        looked.get()?;
        Some((bytes.get().flatten()?, "image/jpeg".to_owned()))
    });
    Effect::new(move |_| {
        let Some(dialog) = dialog.get() else { return };
        match (looked.get().is_some(), dialog.open()) {
            // A dialog that is not in the page says no; there is nothing to do about that.
            (true, false) => drop(dialog.show_modal()),
            (false, true) => dialog.close(),
            _ => {}
        }
    });
    let caption = move || looked.get().map(|looked| looked.caption).unwrap_or_default();
    let away = move || looked.get().is_some() && bytes.get().is_some_and(|bytes| bytes.is_none());
    view! {
        <dialog class="viewer" node_ref=dialog aria-label=caption on:close=move |_| looked.set(None)>
            {move || url.get().map(|url| view! { <img src=url alt=caption/> })}
            <Show when=away>
                <p>"This photograph is on the server or on another device; it cannot be had now."</p>
            </Show>
            <div class="row between">
                <p>{caption}</p>
                <Destroy looked/>
                <button class="bench" on:click=move |_| looked.set(None)>"Close"</button>
            </div>
        </dialog>
    }
}

/// Destroying a photograph for good: two taps, because it cannot be undone.
#[component]
fn Destroy(looked: RwSignal<Option<Looked>>) -> impl IntoView {
    let workshop = use_workshop();
    let shop = use_shop();
    let sure = RwSignal::new(false);
    Effect::new(move |_| {
        looked.track();
        sure.set(false);
    });
    let erase = move |_| {
        let (Some(one), Some(phone)) = (looked.get_untracked(), workshop.phone()) else {
            return;
        };
        spawn_local(async move {
            let subject = Subject::new(SubjectKind::Job, one.job);
            let by = workshop.person().get_untracked();
            match apart::erase_blob(phone, subject, one.full.sha256, by).await {
                Ok(_) => {
                    looked.set(None);
                    workshop.changed();
                    workshop.sync().saved();
                    workshop.tell("The photograph is destroyed, here and wherever this syncs.");
                }
                Err(error) => workshop.complain(error),
            }
        });
    };
    view! {
        <Show when=move || !shop.helper()>
            <Show when=move || sure.get() fallback=move || view! {
                <button class="quiet" on:click=move |_| sure.set(true)>"Destroy…"</button>
            }>
                <button class="quiet bad" on:click=erase>"Destroy for good"</button>
            </Show>
        </Show>
    }
}
