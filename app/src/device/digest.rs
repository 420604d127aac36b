//! SHA-256 computed by the browser, so that the wasm needs no code for it.

use std::fmt::Write;

use js_sys::{ArrayBuffer, Uint8Array};
use leptos::prelude::window;
use wasm_bindgen::JsValue;

use app_core::browser::js::{property, settled};

/// The SHA-256 (FIPS 180-4) of `bytes` as 64 lower-case hex digits.
///
/// # Errors
/// The browser's error; browsers offer this only on secure origins (https, or localhost).
pub(crate) async fn sha256(bytes: &Uint8Array) -> Result<String, JsValue> {
    let crypto = window().crypto()?;
    if property(&crypto, "subtle").is_none() {
        return Err(JsValue::from_str(words::device::not_over_https()));
    }
    let digest: ArrayBuffer = settled(
        crypto
            .subtle()
            .digest_with_str_and_buffer_source("SHA-256", bytes)?,
    )
    .await?;
    Ok(hex(&Uint8Array::new(&digest).to_vec()))
}

/// Lower-case hex.
fn hex(bytes: &[u8]) -> String {
    bytes
        .iter()
        .fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
            // Writing to a String cannot fail.
            let _ = write!(text, "{byte:02x}");
            text
        })
}
