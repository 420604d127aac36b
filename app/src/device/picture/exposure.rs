//! From a drawn frame to encoded bytes, named by their SHA-256.

use futures_util::future::try_join;
use futures_util::lock::Mutex;
use js_sys::{ArrayBuffer, Promise, Uint8Array};
use shared::log::body::Blob;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::HtmlVideoElement;

use super::source::PictureSource;
use super::surface::Surface;
use super::{LONG_EDGE, PictureError, PreparedPicture, THUMB_EDGE};
use crate::device::digest::sha256;
use app_core::browser::js::{error_words, pause, settled};
use app_core::store::NewBlob;

const MEDIA_TYPE: &str = "image/jpeg";
const FULL_QUALITY: f64 = 0.8;
const THUMB_QUALITY: f64 = 0.7;
/// How often a blank frame is drawn again, and after how many ms.
const TRIES: u32 = 8;
const NEXT_FRAME_MS: i32 = 40;

/// Held while a picture is processed, so that it is one at a time: encoders and canvases of several large pictures need
/// more memory than a phone's browser allows.
static PROCESSING: Mutex<()> = Mutex::new(());

/// A frame that has been taken and not yet been made into a [`PreparedPicture`]. It holds about 12 MB.
#[must_use = "an exposure that is not developed is a lost photograph"]
pub struct Exposure {
    source: PictureSource,
    drawn: DrawnSizes,
}

/// The two sizes of a picture, drawn.
struct DrawnSizes {
    full: Surface,
    thumb: Surface,
}

impl Exposure {
    /// Takes the frame that a video shows now.
    ///
    /// # Errors
    /// [`PictureError::Blank`] if it shows none yet; [`PictureError::Other`] if the browser cannot draw it.
    pub fn of_video(video: HtmlVideoElement) -> Result<Self, PictureError> {
        Self::of(PictureSource::Video(video))
    }

    pub(super) fn of(source: PictureSource) -> Result<Self, PictureError> {
        let drawn = DrawnSizes::of(&source)?;
        Ok(Self { source, drawn })
    }

    /// Encodes the picture and its small copy and computes their SHA-256. Only one exposure is processed at a time;
    /// others wait.
    ///
    /// # Errors
    /// [`PictureError::Blank`] if nothing is on it, [`PictureError::Other`] if the browser cannot encode or hash.
    pub async fn develop(self) -> Result<PreparedPicture, PictureError> {
        let drawn = self.with_something_on_it().await?;
        let _turn = PROCESSING.lock().await;
        // The small copy is started first: it is finished and hashed while the picture is still being encoded.
        let thumb = Encoding::start(&drawn.thumb, THUMB_QUALITY)?;
        let full = Encoding::start(&drawn.full, FULL_QUALITY)?;
        let (thumb, full) = try_join(thumb.finish(), full.finish()).await?;
        Ok(PreparedPicture { full, thumb })
    }

    /// The drawn sizes; if they are blank, they are drawn again some ms later, because WebKit sometimes draws nothing
    /// of a running video.
    async fn with_something_on_it(self) -> Result<DrawnSizes, PictureError> {
        let Self { source, mut drawn } = self;
        for _ in 0..TRIES {
            if !drawn.thumb.is_blank().map_err(|thrown| other(&thrown))? {
                return Ok(drawn);
            }
            pause(NEXT_FRAME_MS).await;
            drawn = DrawnSizes::of(&source)?;
        }
        Err(PictureError::Blank)
    }
}

impl DrawnSizes {
    fn of(source: &PictureSource) -> Result<Self, PictureError> {
        let full = Surface::draw(source, LONG_EDGE)?;
        let thumb = full.smaller(THUMB_EDGE)?;
        Ok(Self { full, thumb })
    }
}

/// A JPEG that the browser is making.
pub(super) struct Encoding {
    blob: Promise,
    size: (u32, u32),
}

impl Encoding {
    pub(super) fn start(surface: &Surface, quality: f64) -> Result<Self, PictureError> {
        let blob = surface.jpeg(quality).map_err(|thrown| other(&thrown))?;
        Ok(Self {
            blob,
            size: surface.size(),
        })
    }

    pub(super) async fn finish(self) -> Result<NewBlob, PictureError> {
        let blob: JsValue = settled(self.blob).await.map_err(|thrown| other(&thrown))?;
        // A browser that fails to encode returns null, or a file of another type than was asked for.
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

pub(super) fn other(thrown: &JsValue) -> PictureError {
    PictureError::Other(error_words(thrown))
}
