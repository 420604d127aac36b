//! From a drawn frame to bytes with a name.

use futures_util::lock::Mutex;
use js_sys::{ArrayBuffer, Promise, Uint8Array};
use shared::log::body::Blob;
use wasm_bindgen::{JsCast, JsValue};

use super::surface::Source;
use super::{Picture, PictureError, Surface, THUMB_EDGE};
use crate::device::digest::sha256;
use crate::device::js::{error_words, settled};
use crate::device::store::NewBlob;

const MEDIA_TYPE: &str = "image/jpeg";
const FULL_QUALITY: f64 = 0.8;
const THUMB_QUALITY: f64 = 0.7;

/// One at a time: encoders and canvases of several large pictures at once are more than a phone's memory allows.
static DARKROOM: Mutex<()> = Mutex::new(());

/// A frame that has been taken and not yet been made into a [`Picture`]. It holds about 12 MB.
#[must_use = "an exposure that is not developed is a lost photograph"]
pub struct Exposure {
    full: Surface,
}

impl Exposure {
    /// Wraps a surface that holds the frame at its final size.
    pub(crate) fn of(full: Surface) -> Self {
        Self { full }
    }

    /// Encodes the picture and its small copy and names both. Several exposures wait for each other.
    ///
    /// # Errors
    /// [`PictureError::Blank`] if nothing is on it, [`PictureError::Other`] if the browser cannot encode or hash.
    pub async fn develop(self) -> Result<Picture, PictureError> {
        let _turn = DARKROOM.lock().await;
        let thumb = Surface::draw(&Source::Surface(&self.full), THUMB_EDGE)?;
        if thumb.is_blank().map_err(|thrown| other(&thrown))? {
            return Err(PictureError::Blank);
        }
        // Both encoders start before either is awaited.
        let full = Encoding::start(&self.full, FULL_QUALITY)?;
        let thumb = Encoding::start(&thumb, THUMB_QUALITY)?;
        Ok(Picture {
            full: full.finish().await?,
            thumb: thumb.finish().await?,
        })
    }
}

/// A JPEG that the browser is making.
struct Encoding {
    blob: Promise,
    size: (u32, u32),
}

impl Encoding {
    fn start(surface: &Surface, quality: f64) -> Result<Self, PictureError> {
        let blob = surface.jpeg(quality).map_err(|thrown| other(&thrown))?;
        Ok(Self {
            blob,
            size: surface.size(),
        })
    }

    async fn finish(self) -> Result<NewBlob, PictureError> {
        let blob: JsValue = settled(self.blob).await.map_err(|thrown| other(&thrown))?;
        // A browser that could not encode hands out null, or another kind of file than was asked for.
        let blob: web_sys::Blob = blob.dyn_into().map_err(|_| PictureError::Blank)?;
        if blob.size() == 0.0 || blob.type_() != MEDIA_TYPE {
            return Err(PictureError::Blank);
        }
        let buffer: ArrayBuffer = settled(blob.array_buffer())
            .await
            .map_err(|thrown| other(&thrown))?;
        name(Uint8Array::new(&buffer), self.size)
            .await
            .map_err(|thrown| other(&thrown))
    }
}

async fn name(bytes: Uint8Array, (width, height): (u32, u32)) -> Result<NewBlob, JsValue> {
    let sha256 = sha256(&bytes).await?;
    let about = Blob {
        sha256,
        media_type: MEDIA_TYPE.to_owned(),
        bytes: u64::from(bytes.length()),
        width,
        height,
    };
    Ok(NewBlob {
        about,
        bytes: bytes.to_vec(),
    })
}

fn other(thrown: &JsValue) -> PictureError {
    PictureError::Other(error_words(thrown))
}
