//! The app on the home screen, where it has storage of its own that the browser does not clear.

use leptos::prelude::*;
use wasm_bindgen::JsValue;

use super::listen::Listener;
use app_core::browser::js::{method, property};

/// How this app can be put on the home screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InstallWay {
    /// It cannot, or the browser has not offered it yet.
    None,
    /// With [`Install::ask`].
    Ask,
    /// By hand, on phones whose browser makes no offer: Share, then "Add to Home Screen". What was recorded in the
    /// browser before stays in the browser's storage, so the app says this before the first record is made.
    ByHand,
    /// It was started from the home screen.
    Done,
}

/// Watches for the browser's offer to install the app. Cheap to copy; to be provided as a context at the start.
#[derive(Clone, Copy)]
pub struct Install {
    way: RwSignal<InstallWay>,
    offer: StoredValue<Option<JsValue>, LocalStorage>,
}

impl Install {
    /// Begins to watch. To be called early: a browser makes its offer once, soon after the page has loaded.
    #[must_use]
    pub fn watch() -> Self {
        let install = Self {
            way: RwSignal::new(at_start()),
            offer: StoredValue::new_local(None),
        };
        Listener::on(&window(), "beforeinstallprompt", move |event| {
            event.prevent_default();
            install.offer.set_value(Some(event.into()));
            install.way.set(InstallWay::Ask);
        })
        .keep();
        Listener::on(&window(), "appinstalled", move |_| {
            install.way.set(InstallWay::Done)
        })
        .keep();
        install
    }

    /// The way that is possible now.
    #[must_use]
    pub fn way(self) -> Signal<InstallWay> {
        self.way.into()
    }

    /// Opens the browser's own installation prompt. Call it from a tap. Each offer of the browser can be used once.
    pub fn ask(self) {
        let Some(offer) = self.offer.try_update_value(Option::take).flatten() else {
            return;
        };
        self.way.set(InstallWay::None);
        if let Some(prompt) = method(&offer, "prompt") {
            drop(prompt.call0(&offer));
        }
    }
}

fn at_start() -> InstallWay {
    let standalone = window().match_media("(display-mode: standalone)").ok().flatten();
    // Only Apple's phones and tablets have this property.
    let apple = property(&window().navigator(), "standalone").and_then(|there| there.as_bool());
    match (standalone.is_some_and(|query| query.matches()), apple) {
        (true, _) | (_, Some(true)) => InstallWay::Done,
        (false, Some(false)) => InstallWay::ByHand,
        (false, None) => InstallWay::None,
    }
}
