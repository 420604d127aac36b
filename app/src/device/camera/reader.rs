//! Readers of codes: the browser's own where there is one, else the app's, which is loaded at its first use.

use js_sys::{Array, Function, Promise, Reflect, Uint8Array};
use leptos::prelude::{document, window};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, HtmlVideoElement};

use crate::device::picture::luma;
use app_core::browser::js::{error_words, method, property, settled};

/// The browser's reader (WICG Shape Detection API).
const READER: &str = "BarcodeDetector";
/// The global function that the script of the app's reader defines; it returns a promise of the function that reads a
/// frame.
const LENT: &str = "tagReader";
/// The `<meta>` element that holds the address of this script.
const ADDRESS: &str = "meta[name=reader]";
/// The longest side, in pixels, of the frames that the app's reader is given. At this size a tag at a hand's distance
/// still has about five pixels a module, and a slow phone can read two frames a second.
const LONG_EDGE: u32 = 800;

/// No reader of codes could be started, and why.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::device::tag_reader_failed(.0))]
pub struct NoReader(String);

impl From<JsValue> for NoReader {
    fn from(thrown: JsValue) -> Self {
        Self(error_words(&thrown))
    }
}

/// Something that finds a code in a frame.
pub(super) enum Reader {
    /// The browser's detector.
    Browsers(JsValue),
    /// The app's: a function of brightness, width and height that returns the text, or nothing.
    Ours(Function),
}

impl Reader {
    /// The browser's own, else the app's.
    pub(super) async fn find() -> Result<Self, NoReader> {
        let own = property(&window(), READER)
            .and_then(|class| Reflect::construct(class.unchecked_ref::<Function>(), &Array::new()).ok());
        match own {
            Some(own) => Ok(Self::Browsers(own)),
            None => Self::ours().await,
        }
    }

    /// The app's reader, loaded at its first use.
    pub(super) async fn ours() -> Result<Self, NoReader> {
        if method(&window(), LENT).is_none() {
            settled::<JsValue>(fetched()?).await?;
        }
        let lend = method(&window(), LENT)
            .ok_or_else(|| NoReader(words::device::tag_reader_missing().to_owned()))?;
        let read = settled(lend.call0(&JsValue::UNDEFINED)?.unchecked_into()).await?;
        Ok(Self::Ours(read))
    }

    /// The text of a code in the frame shown now.
    pub(super) async fn look(&self, video: &HtmlVideoElement) -> Result<Option<String>, JsValue> {
        match self {
            Self::Browsers(detector) => {
                let detect = method(detector, "detect").ok_or(JsValue::UNDEFINED)?;
                let codes: Array = settled(detect.call1(detector, video)?.unchecked_into()).await?;
                Ok(property(&codes.get(0), "rawValue").and_then(|text| text.as_string()))
            }
            Self::Ours(read) => {
                // A frame that cannot be drawn counts as a frame without a code.
                let Ok(frame) = luma(video.clone(), LONG_EDGE) else {
                    return Ok(None);
                };
                let pixels = Uint8Array::from(frame.pixels.as_slice());
                let read = read.call3(
                    &JsValue::UNDEFINED,
                    &pixels,
                    &frame.width.into(),
                    &frame.height.into(),
                );
                Ok(read?.as_string())
            }
        }
    }
}

/// Adds the reader's script to the page. The promise is resolved when the script has run or has failed.
fn fetched() -> Result<Promise, JsValue> {
    let address = document().query_selector(ADDRESS)?;
    let address = address.and_then(|meta| meta.get_attribute("content"));
    let address = address.ok_or(words::device::page_names_no_script())?;
    let script = document().create_element("script")?;
    script.set_attribute("type", "module")?;
    script.set_attribute("src", &address)?;
    let ran = Promise::new(&mut |resolve, _| {
        // A script that failed has defined no function; the caller notices that by looking for it.
        for event in ["load", "error"] {
            drop(script.add_event_listener_with_callback(event, &resolve));
        }
    });
    document()
        .head()
        .map(Element::from)
        .ok_or(words::device::page_has_no_head())?
        .append_child(&script)?;
    Ok(ran)
}
