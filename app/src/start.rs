//! The entry point: the wasm's start function.

use leptos::mount::mount_to_body;
use leptos::prelude::document;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::device::screen::{speak_kept_language, watch_taps};
use crate::screens::App;

/// Puts the app on the page. Called once by the wasm's loader.
#[expect(
    unreachable_pub,
    reason = "wasm-bindgen exports public functions only, and Rust needs no path to this one"
)]
#[wasm_bindgen(start)]
pub fn start() {
    std::panic::set_hook(Box::new(|why| {
        console_error_panic_hook::hook(why);
        say_fallen();
    }));
    speak_kept_language();
    watch_taps();
    mount_to_body(App);
}

/// Shows, over everything, that the app has stopped, and a link to start it again. Called when the program has
/// panicked, after which the page answers no tap any more. It uses plain DOM functions, because the framework may be
/// what has failed; the link is one that the app's router ignores. Whatever was shown as saved is on the device.
fn say_fallen() {
    let page = document();
    let Some(body) = page.body() else { return };
    if matches!(page.query_selector(".fallen"), Ok(Some(_))) {
        return;
    }
    let Ok(said) = page.create_element("div") else {
        return;
    };
    said.set_class_name("fallen");
    drop(said.set_attribute("role", "alert"));
    // These sentences have no character that HTML would need escaped.
    said.set_inner_html(&format!(
        r#"<p><strong>{}</strong> {}</p><a class="button" href="/" rel="external">{}</a>"#,
        words::device::app_stopped(),
        words::device::saved_before_stop(),
        words::device::start_app_again(),
    ));
    drop(body.append_child(&said));
}
