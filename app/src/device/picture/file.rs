//! Pictures from the system's camera or gallery: used when the app's own camera is denied or missing.

use js_sys::{Function, Promise};
use wasm_bindgen::JsValue;
use web_sys::{File, HtmlImageElement};

use super::source::PictureSource;
use super::{Exposure, ObjectUrl, PictureError, PreparedPicture};
use app_core::browser::js::settled;

/// Makes a picture of a chosen file: turned the right way up, made smaller, and cleared of EXIF and location.
///
/// An `<img>` element reads it rather than `createImageBitmap`: every engine then turns it as its EXIF says, and may
/// decode a 48-megapixel file at the smaller size at once.
///
/// # Errors
/// [`PictureError::Unreadable`] if the file is no picture for this browser, else as [`Exposure::develop`].
pub async fn from_file(file: &File) -> Result<PreparedPicture, PictureError> {
    let url = ObjectUrl::of_file(file).ok_or(PictureError::Unreadable)?;
    let image = loaded(&url).await.map_err(|_| PictureError::Unreadable)?;
    let picture = Exposure::of(PictureSource::Image(image))?.develop().await;
    // The address must stay valid until here, because the image may be decoded only when it is drawn.
    drop(url);
    picture
}

/// Loads an image. `load` and `error` are awaited, not `decode()`, which refuses very large pictures on iOS.
pub(super) async fn loaded(url: &ObjectUrl) -> Result<HtmlImageElement, JsValue> {
    let image = HtmlImageElement::new()?;
    let outcome = Promise::new(&mut |resolve: Function, reject: Function| {
        image.set_onload(Some(&resolve));
        image.set_onerror(Some(&reject));
    });
    image.set_src(url.as_str());
    settled::<JsValue>(outcome).await?;
    Ok(image)
}
