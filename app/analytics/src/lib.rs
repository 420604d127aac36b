//! Answers questions over many records, in a web worker of the app.
//!
//! This is a wasm module of its own, so that the first screen need not load it and the page stays responsive while it
//! calculates. The questions and their answers are those of `shared::analytics`.
//! asked, and what it answers, is `shared::analytics`.

use wasm_bindgen::prelude::wasm_bindgen;

/// Answers a question of `shared::analytics`. `name` is the question's name, `text` its JSON; returns the answer as
/// JSON.
///
/// # Errors
/// Why there is no answer, in words.
#[wasm_bindgen]
pub fn answer(name: &str, text: &str) -> Result<String, String> {
    shared::analytics::answer(name, text)
}
