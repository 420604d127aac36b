//! When the server last answered, kept across restarts of the app, because it matters most when there is no network.

use leptos::prelude::*;
use shared::log::UnixMs;
use web_sys::Storage;

use app_core::browser::clock;

/// The key in the browser's local storage.
const KEY: &str = "waxend.last-contact";

/// The last contact with the shop's server. Cheap to copy.
#[derive(Debug, Clone, Copy)]
pub(in crate::device) struct Contact(RwSignal<Option<UnixMs>>);

impl Contact {
    /// Reads the value kept by the last run of the app.
    pub(super) fn recall() -> Self {
        let kept = kept().and_then(|kept| kept.get_item(KEY).ok().flatten());
        Self(RwSignal::new(kept.and_then(|ms| ms.parse().ok()).map(UnixMs)))
    }

    /// When it was.
    pub(super) fn last(self) -> Signal<Option<UnixMs>> {
        self.0.into()
    }

    /// The server has just answered.
    pub(super) fn note(self) {
        let now = clock::now();
        self.0.try_set(Some(now));
        if let Some(kept) = kept() {
            // Not essential: a full disk must not stop a sync.
            drop(kept.set_item(KEY, &now.0.to_string()));
        }
    }
}

fn kept() -> Option<Storage> {
    window().local_storage().ok().flatten()
}
