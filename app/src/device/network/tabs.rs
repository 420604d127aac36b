//! The app's tabs among themselves: one syncs at a time, and the others hear what has changed.

use std::cell::Cell;
use std::rc::Rc;

use js_sys::{Function, Object, Promise};
use leptos::prelude::window;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::future_to_promise;
use web_sys::BroadcastChannel;

use crate::device::listen::Listener;
use app_core::browser::js::{method, property, set, settled};

/// The name of the channel and of the lock. Tabs with different builds of the app must agree on it.
const NAME: &str = "waxend";

/// The channel to the other tabs. Without `BroadcastChannel` they are not told; tabs read again when they come into
/// view.
pub(crate) struct Tabs {
    channel: Option<BroadcastChannel>,
    _listener: Option<Listener>,
}

impl Tabs {
    /// Begins to listen: `heard` is called when another tab says that records have changed.
    pub(crate) fn listen(mut heard: impl FnMut() + 'static) -> Self {
        let channel = property(&window(), "BroadcastChannel").and_then(|_| BroadcastChannel::new(NAME).ok());
        let listener = channel
            .as_ref()
            .map(|channel| Listener::on(channel, "message", move |_| heard()));
        Self {
            channel,
            _listener: listener,
        }
    }

    /// Tells the other tabs that records have changed.
    pub(crate) fn tell(&self) {
        if let Some(channel) = &self.channel {
            // It can only fail on a closed channel, and this one is closed only below.
            drop(channel.post_message(&JsValue::TRUE));
        }
    }
}

impl Drop for Tabs {
    fn drop(&mut self) {
        if let Some(channel) = &self.channel {
            channel.close();
        }
    }
}

/// Runs `work` unless another tab holds the lock; in that case returns `None` without waiting. A browser without Web
/// Locks always runs it: two rounds at once do no harm, because of the store's transactions and the server, but are
/// wasteful.
pub(crate) async fn unless_elsewhere<T: 'static>(work: impl Future<Output = T> + 'static) -> Option<T> {
    let Some(request) = lock_request() else {
        return Some(work.await);
    };
    let outcome = Rc::new(Cell::new(None));
    let kept = Rc::clone(&outcome);
    let held = Closure::once_into_js(move |lock: JsValue| -> Promise {
        if lock.is_null() {
            return Promise::resolve(&JsValue::UNDEFINED);
        }
        // The lock is held until this promise is settled.
        future_to_promise(async move {
            kept.set(Some(work.await));
            Ok(JsValue::UNDEFINED)
        })
    });
    let options = Object::new();
    set(&options, "ifAvailable", &JsValue::TRUE);
    let asked = request
        .call3(&JsValue::UNDEFINED, &JsValue::from_str(NAME), &options, &held)
        .ok()?;
    // If the lock cannot be had for any other reason, it counts as taken too: the next round tries again.
    drop(settled::<JsValue>(asked.unchecked_into()).await);
    outcome.take()
}

/// `navigator.locks.request`, where there is one.
fn lock_request() -> Option<Function> {
    let locks = property(&window().navigator(), "locks")?;
    Some(method(&locks, "request")?.bind0(&locks))
}
