//! A picture with text under it, sent to a customer who has to choose.

use wasm_bindgen::JsValue;
use web_sys::CanvasRenderingContext2d;

use super::exposure::{Encoding, other};
use super::file::loaded;
use super::source::PictureSource;
use super::surface::{Surface, fit};
use super::{ObjectUrl, PictureError};

/// Wide enough to be read on any phone.
const WIDTH: u32 = 1080;
const MARGIN: f64 = 48.0;
const FONT: &str = "40px system-ui, sans-serif";
const LINE: f64 = 58.0;
const QUALITY: f64 = 0.85;

/// One JPEG of a photograph with lines of text under it, each wrapped to the picture's width.
///
/// # Errors
/// [`PictureError::Unreadable`] if `photo` is not an image, [`PictureError::Other`] if the browser cannot draw.
pub async fn letter(photo: Option<&[u8]>, lines: &[String]) -> Result<Vec<u8>, PictureError> {
    let url = photo.and_then(|bytes| ObjectUrl::of(bytes, "image/jpeg"));
    let image = match &url {
        Some(url) => Some(PictureSource::Image(
            loaded(url).await.map_err(|_| PictureError::Unreadable)?,
        )),
        None => None,
    };
    let sheet = written(image.as_ref(), lines).map_err(|thrown| other(&thrown))?;
    let jpeg = Encoding::start(&sheet, QUALITY)?.finish().await?;
    // The address must stay valid until here, because the image may be decoded only when it is drawn.
    drop(url);
    Ok(jpeg.bytes)
}

fn written(image: Option<&PictureSource>, lines: &[String]) -> Result<Surface, JsValue> {
    let size = image
        .and_then(|image| fit(image.size(), WIDTH))
        .unwrap_or((WIDTH, 0));
    // Lines are measured on another canvas: changing a canvas's size resets its font.
    let ruler = Surface::new(1, 1)?;
    ruler.pen().set_font(FONT);
    let room = f64::from(WIDTH) - 2.0 * MARGIN;
    let mut wrapped = Vec::new();
    for line in lines {
        wrap(ruler.pen(), line, room, &mut wrapped)?;
    }
    let below = 2.0 * MARGIN + LINE * wrapped.len() as f64;
    let sheet = Surface::new(WIDTH, size.1 + below as u32)?;
    // A new canvas is transparent, which a JPEG would show as black.
    sheet.whiten();
    let pen = sheet.pen();
    if let Some(image) = image {
        image.draw(pen, size)?;
    }
    pen.set_font(FONT);
    pen.set_fill_style_str("black");
    for (n, line) in wrapped.iter().enumerate() {
        let y = f64::from(size.1) + MARGIN + LINE * (n as f64 + 0.75);
        pen.fill_text(line, MARGIN, y)?;
    }
    Ok(sheet)
}

/// Breaks a line between words so that each piece is at most `room` pixels wide; a single wider word is not broken.
fn wrap(
    pen: &CanvasRenderingContext2d,
    line: &str,
    room: f64,
    wrapped: &mut Vec<String>,
) -> Result<(), JsValue> {
    let mut piece = String::new();
    for word in line.split(' ') {
        let longer = if piece.is_empty() {
            word.to_owned()
        } else {
            [&piece, " ", word].concat()
        };
        if !piece.is_empty() && pen.measure_text(&longer)?.width() > room {
            wrapped.push(std::mem::replace(&mut piece, word.to_owned()));
        } else {
            piece = longer;
        }
    }
    wrapped.push(piece);
    Ok(())
}
