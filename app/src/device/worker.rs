//! The service worker as the page sees it: registered, kept up to date, and replaced only when the person says so.
//!
//! A new build is fetched in the background and waits. Nothing under an open page changes until somebody taps
//! "restart": a half-written drop-off must never be lost to an update.

use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    EventTarget, RegistrationOptions, ServiceWorkerContainer, ServiceWorkerRegistration,
    ServiceWorkerUpdateViaCache,
};

use super::listen::{Listener, PageVisibility};

/// The message that the page sends to a waiting worker; `sw.js` has the same text. Old pages send it to new workers, so
/// it must never change.
const TAKE_OVER: &str = "skip-waiting";

/// How often a page that stays open asks for a new build. Installed iOS apps do not ask by themselves.
const ASK_EVERY: Duration = Duration::from_secs(60 * 60);

/// How often to look whether the new worker has taken over: iOS may never report it.
const LOOK_EVERY: Duration = Duration::from_secs(3);

/// How often to look before the page is reloaded in any case.
const LOOKS: u32 = 10;

/// The state of the service worker, as signals. Cheap to copy; meant to be provided as a context.
#[derive(Clone, Copy)]
pub struct ServiceWorker {
    ready_offline: RwSignal<bool>,
    update_waiting: RwSignal<bool>,
    /// Whether this page asked for the take-over, and so expects to be reloaded by it.
    applying: RwSignal<bool>,
    registration: StoredValue<Option<ServiceWorkerRegistration>, LocalStorage>,
}

impl ServiceWorker {
    /// Registers the worker and begins to watch it. A browser without service workers (or a page that is not on a secure
    /// origin) leaves all signals false.
    #[must_use]
    pub fn start() -> Self {
        let worker = Self {
            ready_offline: RwSignal::new(false),
            update_waiting: RwSignal::new(false),
            applying: RwSignal::new(false),
            registration: StoredValue::new_local(None),
        };
        if let Some(container) = container() {
            worker.watch_take_over(&container);
            spawn_local(async move {
                if let Err(error) = worker.register(container).await {
                    leptos::logging::warn!("no service worker, so no start without a network: {error:?}");
                }
            });
        }
        worker
    }

    /// True once this app, as it is now, starts without a network.
    #[must_use]
    pub fn ready_offline(self) -> Signal<bool> {
        self.ready_offline.into()
    }

    /// True while a newer build is ready and waits for the person to start it.
    #[must_use]
    pub fn update_waiting(self) -> Signal<bool> {
        self.update_waiting.into()
    }

    /// True from the person's tap until this page is reloaded.
    #[must_use]
    pub fn applying(self) -> Signal<bool> {
        self.applying.into()
    }

    /// Starts the newer build: it takes over and this page is reloaded. Call it only on a person's tap, and
    /// never with unsaved input on the screen.
    pub fn apply_update(self) {
        self.applying.set(true);
        self.insist(LOOKS);
    }

    /// Asks the waiting worker to take over, and again up to `looks` times while it still waits; then reloads the page.
    /// Reloading while it waits would only load the former build again, and a slow device takes time to start the new
    /// worker.
    fn insist(self, looks: u32) {
        let waiting = self
            .registration
            .with_value(|held| held.as_ref().and_then(ServiceWorkerRegistration::waiting));
        // No worker waits: it has taken over, or another tab has let it in. This page only has to be reloaded.
        let Some(waiting) = waiting else { return reload() };
        if looks == 0 || waiting.post_message(&JsValue::from_str(TAKE_OVER)).is_err() {
            return reload();
        }
        set_timeout(move || self.insist(looks - 1), LOOK_EVERY);
    }

    async fn register(self, container: ServiceWorkerContainer) -> Result<(), JsValue> {
        let options = RegistrationOptions::new();
        options.set_update_via_cache(ServiceWorkerUpdateViaCache::None);
        let registration = JsFuture::from(container.register_with_options("/sw.js", &options)).await?;
        let registration: ServiceWorkerRegistration = registration.unchecked_into();
        self.registration.set_value(Some(registration.clone()));
        self.watch_updates(&registration, &container);
        // At the first visit everything has just been fetched, so there is nothing newer to ask for.
        if container.controller().is_some() {
            ask(&registration);
        }
        keep_asking(&registration);
        JsFuture::from(container.ready()?).await?;
        self.ready_offline.set(true);
        Ok(())
    }

    /// Sets `update_waiting` when a newer build is complete on the device, now or later.
    fn watch_updates(self, registration: &ServiceWorkerRegistration, container: &ServiceWorkerContainer) {
        let look = {
            let (registration, container) = (registration.clone(), container.clone());
            // Without a controller the waiting worker is the first one, which is no update.
            move || {
                if registration.waiting().is_some() && container.controller().is_some() {
                    self.update_waiting.set(true);
                }
            }
        };
        look();
        let found = registration.clone();
        on(registration, "updatefound", move || {
            if let Some(installing) = found.installing() {
                on(&installing, "statechange", look.clone());
            }
        });
    }

    /// Reloads the page that asked for the new build. Another open tab is only told, and keeps what it shows.
    fn watch_take_over(self, container: &ServiceWorkerContainer) {
        let before = StoredValue::new_local(container.controller());
        let changed = container.clone();
        on(container, "controllerchange", move || {
            let now = changed.controller();
            let had = before.get_value();
            if self.applying.get_untracked() {
                reload();
            } else if had.is_some() && had != now {
                // A browser may report the same worker twice, which is no update.
                self.update_waiting.set(true);
            }
            before.set_value(now);
        });
    }
}

/// The browser's service worker container, if it has one here.
fn container() -> Option<ServiceWorkerContainer> {
    let navigator = window().navigator();
    let has = js_sys::Reflect::has(&navigator, &JsValue::from_str("serviceWorker")).unwrap_or(false);
    has.then(|| navigator.service_worker())
}

/// Asks the server for a newer build.
fn ask(registration: &ServiceWorkerRegistration) {
    if let Ok(answer) = registration.update() {
        // Awaited only so that a failure without a network does not show up as an unhandled rejection.
        spawn_local(async move { drop(JsFuture::from(answer).await) });
    }
}

/// Asks again whenever the app comes back to the front, and every hour.
fn keep_asking(registration: &ServiceWorkerRegistration) {
    let asked = registration.clone();
    std::mem::forget(Listener::on_view(move |view| {
        if view == PageVisibility::Seen {
            ask(&asked);
        }
    }));
    let asked = registration.clone();
    drop(set_interval_with_handle(move || ask(&asked), ASK_EVERY));
}

/// Listens until the page is closed.
fn on(target: &EventTarget, event: &'static str, mut act: impl FnMut() + 'static) {
    std::mem::forget(Listener::on(target, event, move |_| act()));
}

/// Reloads the page, with the newest build that this device holds.
pub fn reload() {
    drop(window().location().reload());
}
