//! A drawing surface: every picture is drawn on one at its final size.

use js_sys::{Function, Promise};
use leptos::prelude::document;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

use super::PictureError;
use super::source::PictureSource;
use app_core::browser::js::{error_words, set};

/// A canvas that is not on the page. Dropping it releases its memory at once rather than at the next garbage
/// collection: iOS limits a page's canvas memory, and draws nothing when it is used up.
pub(super) struct Surface {
    canvas: HtmlCanvasElement,
    pen: CanvasRenderingContext2d,
}

impl Surface {
    /// Draws `source`, made smaller if its longer side exceeds `long_edge`, never larger. A browser may draw
    /// nothing and say nothing: see [`Surface::is_blank`].
    ///
    /// # Errors
    /// [`PictureError::Blank`] if the source has nothing to show yet; [`PictureError::Other`] if the browser refuses.
    pub(super) fn draw(source: &PictureSource, long_edge: u32) -> Result<Self, PictureError> {
        let (width, height) = fit(source.size(), long_edge).ok_or(PictureError::Blank)?;
        let surface = Self::new(width, height).map_err(|thrown| PictureError::Other(error_words(&thrown)))?;
        set(&surface.pen, "imageSmoothingQuality", &JsValue::from_str("high"));
        if source.may_be_see_through() {
            surface.whiten();
        }
        source
            .draw(&surface.pen, surface.size())
            .map_err(|thrown| PictureError::Other(error_words(&thrown)))?;
        Ok(surface)
    }

    /// A copy, made smaller if its longer side exceeds `long_edge`.
    ///
    /// # Errors
    /// As [`Surface::draw`].
    pub(super) fn smaller(&self, long_edge: u32) -> Result<Self, PictureError> {
        Self::draw(&PictureSource::Canvas(self.canvas.clone()), long_edge)
    }

    /// An empty one.
    pub(super) fn new(width: u32, height: u32) -> Result<Self, JsValue> {
        let canvas: HtmlCanvasElement = document().create_element("canvas")?.unchecked_into();
        canvas.set_width(width);
        canvas.set_height(height);
        let pen = canvas
            .get_context("2d")?
            .ok_or(words::device::no_canvas())?
            .unchecked_into();
        Ok(Self { canvas, pen })
    }

    /// Its drawing context.
    pub(super) fn pen(&self) -> &CanvasRenderingContext2d {
        &self.pen
    }

    /// Width and height in pixels.
    pub(super) fn size(&self) -> (u32, u32) {
        (self.canvas.width(), self.canvas.height())
    }

    /// Whether every pixel is the same, as when a browser out of memory draws nothing. Reads the pixels back:
    /// for small surfaces only.
    pub(super) fn is_blank(&self) -> Result<bool, JsValue> {
        let pixels = self.pixels()?;
        let mut pixels = pixels.chunks_exact(4);
        let first = pixels.next();
        Ok(pixels.all(|pixel| Some(pixel) == first))
    }

    /// Every pixel as red, green, blue and opacity, row by row from the top left.
    pub(super) fn pixels(&self) -> Result<Vec<u8>, JsValue> {
        let (width, height) = self.size();
        let read = self
            .pen
            .get_image_data(0.0, 0.0, f64::from(width), f64::from(height))?;
        Ok(read.data().0)
    }

    /// Begins to encode as JPEG, `quality` from 0 to 1.
    /// The browser encodes while the caller goes on; the promise holds a Blob, or null if it could not.
    pub(super) fn jpeg(&self, quality: f64) -> Result<Promise, JsValue> {
        let canvas = self.canvas.clone();
        let mut failed = None;
        let promise = Promise::new(&mut |resolve: Function, reject: Function| {
            let done =
                Closure::once_into_js(move |blob: JsValue| drop(resolve.call1(&JsValue::UNDEFINED, &blob)));
            let asked = canvas.to_blob_with_type_and_encoder_options(
                done.unchecked_ref(),
                "image/jpeg",
                &quality.into(),
            );
            if let Err(thrown) = asked {
                drop(reject);
                failed = Some(thrown);
            }
        });
        failed.map_or(Ok(promise), Err)
    }

    /// Fills it with white: a JPEG would show transparent pixels as black.
    pub(super) fn whiten(&self) {
        let (width, height) = self.size();
        self.pen.set_fill_style_str("white");
        self.pen.fill_rect(0.0, 0.0, f64::from(width), f64::from(height));
    }
}

impl Drop for Surface {
    fn drop(&mut self) {
        self.canvas.set_width(0);
        self.canvas.set_height(0);
    }
}

/// The largest size that keeps the proportions, with the longer side at most `long_edge` and never enlarged; `None` if
/// a side is 0.
pub(super) fn fit((width, height): (u32, u32), long_edge: u32) -> Option<(u32, u32)> {
    let longer = width.max(height);
    if width == 0 || height == 0 {
        return None;
    }
    if longer <= long_edge {
        return Some((width, height));
    }
    let scaled = |side: u32| {
        let exact = u64::from(side) * u64::from(long_edge);
        let rounded = (exact + u64::from(longer) / 2) / u64::from(longer);
        u32::try_from(rounded).unwrap_or(long_edge).max(1)
    };
    Some((scaled(width), scaled(height)))
}
