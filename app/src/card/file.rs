//! The card as one file that needs no server: to share or print on the spot.

use leptos::mount::mount_to;
use leptos::prelude::*;
use shared::log::body::Section;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::HtmlElement;

use super::{CardView, STYLE, card_body};

/// A picture inside the file: its SHA-256, and its bytes.
pub type EmbeddedPicture = (String, Vec<u8>);

/// What the file contains besides the pictures. The card is readable without any of it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CardExtras {
    /// The drawing of the kind of goods, an `<svg>` element as text.
    pub drawing: Option<String>,
    /// The style sheet with the typeface.
    pub typeface: String,
}

/// The card of these sections, newest first, as an HTML page that contains its pictures and its style sheet. Of a
/// photograph that is not among `inside`, the page has only the place and the caption.
///
/// # Errors
/// What the browser throws when it cannot make an element.
pub fn self_contained(
    sections: &[Section],
    inside: &[EmbeddedPicture],
    extras: CardExtras,
) -> Result<String, JsValue> {
    let CardExtras { drawing, typeface } = extras;
    let source = |hash: &str| {
        inside
            .iter()
            .find(|(known, _)| known == hash)
            .map_or_else(String::new, |(_, bytes)| data_url("image/jpeg", bytes))
    };
    let view = CardView::new(sections, source).with_drawing(|_| drawing);
    let title = view.title().to_owned();
    // Mounted into an element that is not on the page, and read back as HTML: `to_html()` exists only in server builds.
    let holder: HtmlElement = document().create_element("div")?.unchecked_into();
    let mounted = mount_to(holder.clone(), move || card_body(view));
    let body = holder.inner_html();
    drop(mounted);
    let title = words::card::page_title(&title.replace('&', "&amp;").replace('<', "&lt;"));
    let language = words::current().tag();
    Ok(format!(
        "<!DOCTYPE html><html lang=\"{language}\"><head><meta charset=\"utf-8\">\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\
         <title>{title}</title><style>{typeface}{STYLE}</style></head><body><main>{body}</main></body></html>"
    ))
}

/// A file as a `data:` URL; empty if the browser has no room for it.
pub fn data_url(media_type: &str, bytes: &[u8]) -> String {
    // `btoa` takes a string with one character for each byte.
    let binary: String = bytes.iter().copied().map(char::from).collect();
    window()
        .btoa(&binary)
        .map(|text| ["data:", media_type, ";base64,", &text].concat())
        .unwrap_or_default()
}
