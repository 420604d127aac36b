//! How much storage the browser gives this app, and whether the browser may clear it. Some browsers (`WebKitGTK`) cannot
//! say; then the values are unknown and everything else works all the same.

use js_sys::Promise;
use leptos::prelude::window;
use wasm_bindgen::{JsCast, JsValue};

use app_core::browser::js::{method, property, settled};

/// What the browser says of this app's storage; `None` where it does not say.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Storage {
    /// Whether the records stay until the person deletes them. If not, the browser may clear them when storage is
    /// short.
    pub persisted: Option<bool>,
    /// Bytes used, approximately.
    pub used: Option<f64>,
    /// Bytes that may be used, approximately.
    pub allowed: Option<f64>,
}

impl Storage {
    /// Whether more than half of the storage is used, or the browser does not say.
    pub fn is_short(&self) -> bool {
        match (self.used, self.allowed) {
            (Some(used), Some(allowed)) => used > allowed / 2.0,
            _ => true,
        }
    }
}

/// Asks the browser for the current values.
pub async fn storage() -> Storage {
    let Some(manager) = manager() else {
        return Storage::default();
    };
    let estimate = ask(&manager, "estimate").await;
    let number = |name| {
        estimate
            .as_ref()
            .and_then(|answer| property(answer, name))
            .and_then(|number| number.as_f64())
    };
    Storage {
        persisted: ask(&manager, "persisted")
            .await
            .and_then(|answer| answer.as_bool()),
        used: number("usage"),
        allowed: number("quota"),
    }
}

/// Asks the browser to keep the records until the person deletes them. `None`: this browser cannot be asked.
///
/// Some browsers ask the person, so this belongs after something they did, not at the start.
pub async fn keep_records() -> Option<bool> {
    let manager = manager()?;
    match ask(&manager, "persisted")
        .await
        .and_then(|answer| answer.as_bool())
    {
        Some(true) => Some(true),
        _ => ask(&manager, "persist").await.and_then(|answer| answer.as_bool()),
    }
}

fn manager() -> Option<JsValue> {
    property(&window().navigator(), "storage")
}

/// Calls a method that returns a promise, and waits for it; `None` if the method is missing or fails.
async fn ask(manager: &JsValue, name: &str) -> Option<JsValue> {
    let promise: Promise = method(manager, name)?.call0(manager).ok()?.dyn_into().ok()?;
    settled(promise).await.ok()
}
