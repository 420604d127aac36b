//! Where the browser enters: the wasm's start function.

use leptos::mount::mount_to_body;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::screens::App;

/// Puts the app on the page. Called once by the wasm's loader.
#[expect(
    unreachable_pub,
    reason = "wasm-bindgen exports public functions only, and Rust needs no path to this one"
)]
#[wasm_bindgen(start)]
pub fn start() {
    console_error_panic_hook::set_once();
    mount_to_body(App);
}
