//! The browser's failures as the store knows them.

use wasm_bindgen::JsValue;
use web_sys::DomException;

use crate::browser::js::{error_name, error_words};
use crate::store::kv::KvError;

/// What a thrown error, or the error of a request, means.
pub(super) fn of_thrown(thrown: &JsValue) -> KvError {
    judge(&error_name(thrown), &error_words(thrown))
}

/// What the error of a transaction means.
pub(super) fn named(error: &DomException) -> KvError {
    judge(&error.name(), &error.message())
}

fn judge(name: &str, words: &str) -> KvError {
    match name {
        "QuotaExceededError" => KvError::Full,
        // "The database connection is closing": a background tab's, or one that made way for an update.
        "InvalidStateError" | "AbortError" => KvError::Lost,
        "VersionError" => KvError::TooNew,
        // WebKit: "Connection to Indexed Database server lost. Refresh the page to try again."
        "UnknownError" if words.contains("onnection") => KvError::Lost,
        _ => KvError::Other(format!("{name}: {words}")),
    }
}
