//! Sources that pictures are drawn from.

use wasm_bindgen::JsValue;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement, HtmlImageElement, HtmlVideoElement};

/// Something that can be drawn.
pub(super) enum PictureSource {
    /// The frame a video shows at the moment of drawing.
    Video(HtmlVideoElement),
    /// A loaded image, turned as its EXIF says.
    Image(HtmlImageElement),
    /// Another drawing.
    Canvas(HtmlCanvasElement),
}

impl PictureSource {
    /// Width and height in pixels as it is seen; 0 while there is nothing to see.
    pub(super) fn size(&self) -> (u32, u32) {
        match self {
            Self::Video(video) => (video.video_width(), video.video_height()),
            Self::Image(image) => (image.natural_width(), image.natural_height()),
            Self::Canvas(canvas) => (canvas.width(), canvas.height()),
        }
    }

    /// Whether it may have transparent pixels. Camera frames and what was drawn here before have none.
    pub(super) fn may_be_see_through(&self) -> bool {
        matches!(self, Self::Image(_))
    }

    /// Draws all of it at this size.
    pub(super) fn draw(
        &self,
        pen: &CanvasRenderingContext2d,
        (width, height): (u32, u32),
    ) -> Result<(), JsValue> {
        let (width, height) = (f64::from(width), f64::from(height));
        match self {
            Self::Video(video) => {
                pen.draw_image_with_html_video_element_and_dw_and_dh(video, 0.0, 0.0, width, height)
            }
            Self::Image(image) => {
                pen.draw_image_with_html_image_element_and_dw_and_dh(image, 0.0, 0.0, width, height)
            }
            Self::Canvas(canvas) => {
                pen.draw_image_with_html_canvas_element_and_dw_and_dh(canvas, 0.0, 0.0, width, height)
            }
        }
    }
}
