//! Answers questions over many records, in a web worker of the app.
//!
//! This is a wasm module of its own, so that the first screen need not load it and the page stays responsive while it
//! calculates. The questions and their answers are those of `shared::analytics`.

use wasm_bindgen::prelude::wasm_bindgen;

/// Answers a question of `shared::analytics`. `language` is the tag of the language of the answer's sentences (BCP 47),
/// `name` the question's name, `text` its JSON; returns the answer as JSON.
///
/// # Errors
/// Why there is no answer, in words.
#[wasm_bindgen]
pub fn answer(language: &str, name: &str, text: &str) -> Result<String, String> {
    words::use_language(words::Language::of(language));
    shared::analytics::answer(name, text)
}
