//! Pictures from wherever they are: the device, else the server, kept here from then on.

use shared::log::SubjectId;

use super::{Phone, lazy};
use crate::device::DeviceError;
use app_core::store::Size;

/// The bytes of a picture in this size; `None` when they are neither here nor to be had now.
///
/// `subject` is the job whose entry names it. Bytes from the server are kept only if they hash to their name.
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
