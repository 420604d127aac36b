//! Photographs as the shop keeps them: small, and without the metadata that a camera adds.
//!
//! Whatever comes in, from the camera or from a file, is drawn anew at [`LONG_EDGE`] at most and encoded as JPEG.
//! Drawing anew is what drops EXIF and with it the place where the picture was taken. The SHA-256 of the encoded
//! bytes names the picture from then on. Bytes are kept as plain bytes, never as a browser's Blob, which WebKit
//! cannot store safely.

mod exposure;
mod file;
mod letter;
mod luma;
mod source;
mod spot;
mod surface;
mod url;

pub use exposure::Exposure;
pub use file::from_file;
pub use letter::letter;
pub use luma::{Luma, luma};
pub use spot::spot;
pub use url::{ObjectUrl, use_object_url};

use app_core::store::NewBlob;

/// The longest side of a kept picture, in pixels.
pub const LONG_EDGE: u32 = 2048;
/// The longest side of the small copy for lists, in pixels.
pub const THUMB_EDGE: u32 = 256;

/// A picture ready to be stored: the picture, and a small copy for lists.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PreparedPicture {
    /// [`LONG_EDGE`] at most.
    pub full: NewBlob,
    /// [`THUMB_EDGE`] at most.
    pub thumb: NewBlob,
}

/// Why there is no picture.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum PictureError {
    /// The file is no picture, or of a kind that this browser cannot read.
    #[error("{}", words::device::not_a_picture())]
    Unreadable,
    /// It came out as a single colour, as browsers do when they run out of memory.
    #[error("{}", words::device::picture_blank())]
    Blank,
    /// The browser failed at it, in its words.
    #[error("{}", words::device::picture_failed(.0))]
    Other(String),
}
