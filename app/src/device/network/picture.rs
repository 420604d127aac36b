//! A picture from the shop's server.

use shared::log::SubjectId;
use shared::log::body::Blob;

use super::Remote;
use crate::device::digest::sha256;
use crate::device::{DeviceError, Phone};
use app_core::store::{BlobPlace, NewBlob, Size};

/// The bytes of a picture from the server that this device has joined; they are stored from then on. `None` if they
/// cannot be had now. They are stored only if their SHA-256 is the one asked for.
pub(in crate::device) async fn picture(
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
