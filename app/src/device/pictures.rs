//! Pictures from wherever they are: the device, else the server, kept here from then on.

use shared::log::SubjectId;
use shared::log::body::Blob;

use super::digest::sha256;
use super::network::Remote;
use super::{Phone, lazy};
use crate::device::DeviceError;
use app_core::store::{BlobPlace, NewBlob, Size};

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

/// The bytes from the server that this device has joined, kept from then on.
pub(super) async fn from_server(
    phone: &Phone,
    sha256_hex: &str,
    subject: SubjectId,
    size: Size,
) -> Result<Option<Vec<u8>>, DeviceError> {
    let membership = phone.membership().await?;
    if !membership.joined() || phone.is_destroyed(sha256_hex).await? {
        return Ok(None);
    }
    let remote = Remote::of(&membership);
    let Ok(bytes) = remote.get_blob(sha256_hex).await else {
        return Ok(None);
    };
    let named = sha256(&js_sys::Uint8Array::from(bytes.as_slice())).await;
    if named.ok().as_deref() != Some(sha256_hex) {
        return Ok(None);
    }
    let about = Blob {
        sha256: sha256_hex.to_owned(),
        media_type: "image/jpeg".to_owned(),
        bytes: bytes.len() as u64,
        width: 0,
        height: 0,
    };
    phone
        .keep_blob(
            NewBlob {
                about,
                bytes: bytes.clone(),
            },
            BlobPlace { subject, size },
        )
        .await?;
    Ok(Some(bytes))
}
