//! Keeps the screen on while the hands are busy.

use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::{JsCast, JsValue};

use crate::device::listen::{Listener, PageVisibility};
use app_core::browser::js::{method, property, settled};

/// A granted wake lock; dropping it lets the screen sleep again.
struct Awake(JsValue);

impl Awake {
    /// Asks for it. `None` if it is refused: by an older browser, or with a nearly empty battery.
    async fn ask() -> Option<Self> {
        let lock = property(&window().navigator(), "wakeLock")?;
        let asked = method(&lock, "request")?
            .call1(&lock, &JsValue::from_str("screen"))
            .ok()?;
        settled(asked.unchecked_into()).await.ok().map(Self)
    }
}

impl Drop for Awake {
    fn drop(&mut self) {
        if let Some(release) = method(&self.0, "release") {
            drop(release.call0(&self.0));
        }
    }
}

/// Keeps the screen on for as long as the current reactive owner lives.
pub fn use_awake() {
    let held = StoredValue::<Option<Awake>, LocalStorage>::new_local(None);
    let ask = move || {
        spawn_local(async move {
            let awake = Awake::ask().await;
            // If the screen has been left meanwhile, this drops the lock.
            drop(held.try_set_value(awake));
        });
    };
    ask();
    // The browser releases the lock whenever the page is hidden.
    Listener::on_view(move |view| {
        if view == PageVisibility::Seen {
            ask();
        }
    })
    .keep();
}
