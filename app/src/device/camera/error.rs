//! Why a camera does not run.

use crate::device::media::NoStream;
use crate::device::picture::PictureError;

/// Why there is no camera, or no frame from it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum CameraError {
    /// The person or the device's settings do not let this page use the camera.
    #[error("{}", words::device::camera_denied())]
    Denied,
    /// The device has no camera, or the page was not opened over https.
    #[error("{}", words::device::camera_missing())]
    Missing,
    /// Another app holds it, or has taken it away.
    #[error("{}", words::device::camera_busy())]
    Busy,
    /// No live frame is there yet: a moment later it will work.
    #[error("{}", words::device::camera_not_ready())]
    NotReady,
    /// Anything else, in the browser's words.
    #[error("{}", words::device::camera_failed(.0))]
    Other(String),
}

impl From<NoStream> for CameraError {
    fn from(none: NoStream) -> Self {
        match none {
            NoStream::Denied => Self::Denied,
            NoStream::Missing => Self::Missing,
            NoStream::Busy => Self::Busy,
            NoStream::Other(words) => Self::Other(words),
        }
    }
}

impl From<PictureError> for CameraError {
    fn from(error: PictureError) -> Self {
        match error {
            PictureError::Blank => Self::NotReady,
            error => Self::Other(error.to_string()),
        }
    }
}
