//! A photograph in full, shown over whatever screen it was tapped on.

use leptos::html::Dialog;
use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Blob;

use crate::device::DeviceError;
use crate::device::Phone;
use crate::device::picture::use_object_url;
use crate::device::pictures::fetched;
use crate::session::{use_live_query, use_session};
use crate::shop::use_shop;
use app_core::commands::destroy;
use app_core::store::Size;

/// A photograph to look at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Looked {
    /// The full picture.
    pub full: Blob,
    /// The small one.
    pub thumb: Blob,
    /// The job it was taken on.
    pub job: SubjectId,
    /// What it shows.
    pub caption: String,
}

/// The photograph shown in full, if any. Provided as a context.
#[derive(Clone, Copy)]
pub struct Viewer(RwSignal<Option<Looked>>);

impl Viewer {
    /// With no photograph shown.
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

/// What can be shown of a photograph.
#[derive(Debug, Clone, PartialEq)]
enum ViewerContent {
    /// Its bytes.
    Here(Vec<u8>),
    /// They are not on this device, and cannot be had from the server now.
    Away,
    /// They were destroyed for good.
    Destroyed,
}

async fn seen(phone: Phone, looked: Looked) -> Result<ViewerContent, DeviceError> {
    let hash = &looked.full.sha256;
    if let Some(bytes) = fetched(&phone, hash, looked.job, Size::Full).await? {
        return Ok(ViewerContent::Here(bytes));
    }
    let destroyed = phone.is_destroyed(hash).await?;
    Ok(if destroyed {
        ViewerContent::Destroyed
    } else {
        ViewerContent::Away
    })
}

/// The dialog in which photographs are shown in full.
#[component]
pub fn PhotographViewer() -> impl IntoView {
    let Viewer(looked) = expect_context();
    let dialog = NodeRef::<Dialog>::new();
    let shown = use_live_query(move |phone| {
        let looked = looked.get();
        async move {
            match looked {
                Some(looked) => seen(phone, looked).await.map(Some),
                None => Ok(None),
            }
        }
    });
    let url = use_object_url(move || {
        looked.get()?;
        match shown.get().flatten()? {
            ViewerContent::Here(bytes) => Some((bytes, "image/jpeg".to_owned())),
            ViewerContent::Away | ViewerContent::Destroyed => None,
        }
    });
    Effect::new(move |_| {
        let Some(dialog) = dialog.get() else { return };
        match (looked.get().is_some(), dialog.open()) {
            // `show_modal` fails only for a dialog that is not in the page.
            (true, false) => drop(dialog.show_modal()),
            (false, true) => dialog.close(),
            _ => {}
        }
    });
    // The browser tells of a closing later; meanwhile another photograph may have been opened.
    let closed = move |_| {
        if dialog.get_untracked().is_some_and(|dialog| !dialog.open()) {
            looked.set(None);
        }
    };
    let caption = move || looked.get().map(|looked| looked.caption).unwrap_or_default();
    let why = move || {
        looked.get()?;
        match shown.get().flatten()? {
            ViewerContent::Here(_) => None,
            ViewerContent::Away => Some(words::parts::photograph_elsewhere()),
            ViewerContent::Destroyed => Some(words::parts::photograph_was_destroyed()),
        }
    };
    // Destroying takes two taps, because it cannot be undone.
    let asked = RwSignal::new(false);
    Effect::new(move |_| {
        looked.track();
        asked.set(false);
    });
    let shop = use_shop();
    let may = move || why().is_none() && !shop.helper();
    view! {
        <dialog class="viewer" node_ref=dialog aria-label=caption on:close=closed>
            <Show when=move || may() && asked.get()><ForGood looked/></Show>
            {move || url.get().map(|url| view! { <img src=url alt=caption/> })}
            {move || why().map(|why| view! { <p role="status">{why}</p> })}
            <div class="row between">
                <p>{caption}</p>
                <Show when=may>
                    <button class="quiet" aria-expanded=move || asked.get().to_string()
                        on:click=move |_| asked.update(|asked| *asked = !*asked)>
                        {move || if asked.get() { words::parts::keep_photograph() } else { words::parts::destroy() }}
                    </button>
                </Show>
                <button class="bench" on:click=move |_| looked.set(None)>{words::parts::close_photograph()}</button>
            </div>
        </dialog>
    }
}

/// The second tap, which destroys the photograph. It is above the picture, far from the place of the first tap; the
/// button there leads back meanwhile.
#[component]
fn ForGood(looked: RwSignal<Option<Looked>>) -> impl IntoView {
    let (session, shop) = (use_session(), use_shop());
    let go = move |_| {
        let Some(one) = looked.get_untracked() else { return };
        let drafts = destroy(one.job, &one.full.sha256, &one.thumb.sha256);
        // A device that has joined destroys it once the server has taken the erasure.
        let said = match shop.joined() {
            true => words::parts::photograph_destroyed_once_sent(),
            false => words::parts::photograph_destroyed(),
        };
        session.save_and(drafts, move |_| {
            looked.set(None);
            session.sync().now();
            session.tell(said);
        });
    };
    view! {
        <div class="destroy" role="alert">
            <p>{words::parts::warn_before_destroying()}</p>
            <button class="quiet bad" on:click=go>{words::parts::destroy_for_good()}</button>
        </div>
    }
}
