//! Moving the keyboard focus.

use leptos::prelude::{document, request_animation_frame};
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

/// Moves the focus to the element with this id after the next redraw. Does nothing if there is none then.
pub fn focus(id: String) {
    request_animation_frame(move || {
        let element = document().get_element_by_id(&id);
        if let Some(element) = element.and_then(|element| element.dyn_into::<HtmlElement>().ok()) {
            // An element that cannot take it leaves it where it is.
            drop(element.focus());
        }
    });
}
