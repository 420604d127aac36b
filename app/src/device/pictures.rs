//! Pictures from the device, or else from the server.

use shared::log::SubjectId;

use super::{Phone, lazy};
use crate::device::DeviceError;
use app_core::store::Size;

/// The bytes of a picture in this size, from the device or else from the server; `None` if neither has them now.
///
/// `subject` is the job whose entry names the picture. Bytes from the server are stored on the device only if their
/// SHA-256 is the one asked for.
///
/// # Errors
/// When the device's storage fails; a server that does not answer is no error.
pub async fn fetched(
    phone: &Phone,
    sha256_hex: &str,
    subject: SubjectId,
    size: Size,
) -> Result<Option<Vec<u8>>, DeviceError> {
    let here = match size {
        Size::Full => phone.blob(sha256_hex).await?,
        Size::Thumb => phone.thumb(sha256_hex).await?,
    };
    if here.is_some() {
        return Ok(here);
    }
    lazy::picture(phone.clone(), sha256_hex.to_owned(), subject, size).await
}
