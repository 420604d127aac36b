//! SHA-256 and PBKDF2 computed by the browser, so that the wasm needs no code for them.

use std::fmt::Write;

use js_sys::{Array, ArrayBuffer, Object, Uint8Array};
use leptos::prelude::window;
use wasm_bindgen::JsValue;
use web_sys::{CryptoKey, SubtleCrypto};

use app_core::browser::js::{property, set, settled};

/// The SHA-256 (FIPS 180-4) of `bytes` as 64 lower-case hex digits.
///
/// # Errors
/// The browser's error; browsers offer this only on secure origins (https, or localhost).
pub(crate) async fn sha256(bytes: &Uint8Array) -> Result<String, JsValue> {
    let digest: ArrayBuffer = settled(subtle()?.digest_with_str_and_buffer_source("SHA-256", bytes)?).await?;
    Ok(hex(&Uint8Array::new(&digest).to_vec()))
}

/// PBKDF2 (RFC 8018) with HMAC-SHA-256 over `secret` and `salt`: 256 bits as 64 lower-case hex digits.
///
/// # Errors
/// As [`sha256`].
pub(super) async fn pbkdf2(secret: &str, salt: &str, iterations: u32) -> Result<String, JsValue> {
    let subtle = subtle()?;
    let uses = Array::of1(&JsValue::from_str("deriveBits"));
    let secret = Uint8Array::from(secret.as_bytes());
    let key = subtle.import_key_with_str("raw", &secret, "PBKDF2", false, &uses)?;
    let key: CryptoKey = settled(key).await?;
    let algorithm = Object::new();
    set(&algorithm, "name", &JsValue::from_str("PBKDF2"));
    set(&algorithm, "hash", &JsValue::from_str("SHA-256"));
    set(&algorithm, "salt", &Uint8Array::from(salt.as_bytes()));
    set(&algorithm, "iterations", &JsValue::from(iterations));
    let bits: ArrayBuffer = settled(subtle.derive_bits_with_object(&algorithm, &key, 256)?).await?;
    Ok(hex(&Uint8Array::new(&bits).to_vec()))
}

/// The browser's cryptography, where it offers it.
fn subtle() -> Result<SubtleCrypto, JsValue> {
    let crypto = window().crypto()?;
    match property(&crypto, "subtle") {
        Some(_) => Ok(crypto.subtle()),
        None => Err(JsValue::from_str(words::device::not_over_https())),
    }
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
