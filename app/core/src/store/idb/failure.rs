//! Converts the browser's errors into those of the store.

use wasm_bindgen::JsValue;
use web_sys::DomException;

use crate::browser::js::{error_name, error_words};
use crate::store::kv::KvError;

/// The meaning of a thrown error, or of the error of a request.
pub(super) fn of_thrown(thrown: &JsValue) -> KvError {
    judge(&error_name(thrown), &error_words(thrown))
}

/// The meaning of the error of a transaction.
pub(super) fn named(error: &DomException) -> KvError {
    judge(&error.name(), &error.message())
}

fn judge(name: &str, words: &str) -> KvError {
    match name {
        "QuotaExceededError" => KvError::Full,
        // "The database connection is closing": in a background tab, or because it was closed for an upgrade.
        "InvalidStateError" | "AbortError" => KvError::Lost,
        "VersionError" => KvError::TooNew,
        // WebKit: "Connection to Indexed Database server lost. Refresh the page to try again."
        "UnknownError" if words.contains("onnection") => KvError::Lost,
        _ => KvError::Other(format!("{name}: {words}")),
    }
}
