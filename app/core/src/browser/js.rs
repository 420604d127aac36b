//! Small helpers for browser features that the typed bindings lack or that some browsers lack, and for error messages.

use super::window;
use js_sys::{Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// The property `name`, or `None` where this browser does not have it.
pub fn property(target: &JsValue, name: &str) -> Option<JsValue> {
    let value = Reflect::get(target, &JsValue::from_str(name)).ok()?;
    (!value.is_undefined() && !value.is_null()).then_some(value)
}

/// The method `name`, or `None` where this browser does not have it.
pub fn method(target: &JsValue, name: &str) -> Option<Function> {
    property(target, name)?.dyn_into().ok()
}

/// Sets a property of an options object. The target is always an object made here, so it cannot fail.
pub fn set(target: &JsValue, name: &str, value: &JsValue) {
    drop(Reflect::set(target, &JsValue::from_str(name), value));
}

/// Waits for a promise whose value is known to be a `T`. Returns the error if it is rejected.
pub async fn settled<T: JsCast>(promise: Promise) -> Result<T, JsValue> {
    JsFuture::from(promise).await.map(JsCast::unchecked_into)
}

/// Waits for this many milliseconds.
pub async fn pause(ms: i32) {
    let passed = Promise::new(&mut |resolve: Function, _| {
        // Without a timer there is nothing to wait for.
        if window()
            .set_timeout_with_callback_and_timeout_and_arguments_0(&resolve, ms)
            .is_err()
        {
            drop(resolve.call0(&JsValue::UNDEFINED));
        }
    });
    drop(JsFuture::from(passed).await);
}

/// The name of a thrown error, for example `NotAllowedError`; empty for anything else that was thrown.
pub fn error_name(thrown: &JsValue) -> String {
    property(thrown, "name")
        .and_then(|name| name.as_string())
        .unwrap_or_default()
}

/// The browser's message for a thrown error.
pub fn error_words(thrown: &JsValue) -> String {
    property(thrown, "message")
        .and_then(|words| words.as_string())
        .unwrap_or_else(|| error_name(thrown))
}
