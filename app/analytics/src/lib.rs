//! Answers what a phone asks of all its records at once, in a worker apart from the app.
//!
//! A module of its own: the first screen does not wait for it, and the page never stands still while it reckons. What it is
//! asked, and what it answers, is `shared::analytics`.

use wasm_bindgen::prelude::wasm_bindgen;

/// Answers a question of `shared::analytics` by its name.
///
/// # Errors
/// Why there is no answer, in words.
#[wasm_bindgen]
pub fn answer(name: &str, text: &str) -> Result<String, String> {
    shared::analytics::answer(name, text)
}
