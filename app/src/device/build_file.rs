//! Files of the build that are loaded only when they are needed. A `<meta>` element of the page holds the address of each,
//! because its name changes with its content.

use leptos::prelude::document;
use wasm_bindgen::JsValue;
use web_sys::Response;

use app_core::browser::js::settled;
use app_core::browser::window;

/// The address of the file whose `<meta>` element has this name.
#[must_use]
pub fn address(name: &str) -> Option<String> {
    let meta = document().query_selector(&["meta[name=", name, "]"].concat());
    meta.ok()??.get_attribute("content")
}

/// The text of the file whose `<meta>` element has this name.
///
/// # Errors
/// What the browser throws when it cannot load the file; the name, if the page has no such element; the status of the
/// answer, if it is not the file.
pub async fn text(name: &str) -> Result<String, JsValue> {
    let address = address(name).ok_or_else(|| JsValue::from(name))?;
    let answer: Response = settled(window().fetch_with_str(&address)).await?;
    if !answer.ok() {
        return Err(JsValue::from(answer.status()));
    }
    let text: JsValue = settled(answer.text()?).await?;
    Ok(text.as_string().unwrap_or_default())
}
