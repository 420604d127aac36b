//! The type of this device's store: over the browser's IndexedDB, with the browser's SHA-256; and what is asked of all of
//! it.

use js_sys::Uint8Array;

use super::digest::sha256;
use super::share::FileInPieces;
use crate::device::DeviceError;
use app_core::browser::BrowserDevice;
use app_core::browser::js::error_words;
use app_core::store::idb::Idb;
use app_core::store::{KvStore, Restored, Scope, Sha256Digest};
use app_core::take_out::FilesTakenOut;

/// The store as the app uses it.
pub type Phone = KvStore<Idb, BrowserDevice>;

/// A backup as one file.
///
/// # Errors
/// As [`KvStore::write_backup`].
pub async fn backup(phone: &Phone, scope: Scope) -> Result<Vec<u8>, DeviceError> {
    let mut file = Vec::new();
    phone
        .write_backup(scope, &Browser, &mut |piece| file.extend_from_slice(&piece))
        .await?;
    Ok(file)
}

/// Everything on this device as one archive that other programs read.
///
/// # Errors
/// As [`app_core::take_out::take_out`].
pub async fn take_out(phone: &Phone) -> Result<(FileInPieces, FilesTakenOut), DeviceError> {
    let mut file = FileInPieces::default();
    let done = app_core::take_out::take_out(phone, &mut |piece| file.push(&piece)).await?;
    Ok((file, done))
}

/// Reads a backup in.
///
/// # Errors
/// As [`KvStore::read_backup`].
pub async fn restore(phone: &Phone, file: &[u8]) -> Result<Restored, DeviceError> {
    Ok(phone.read_backup(file, &Browser).await?)
}

/// Whether this device has once read everything that the shop's server has. A device without a server has all there is.
///
/// # Errors
/// If the database fails.
pub async fn has_read_everything(phone: &Phone) -> Result<bool, DeviceError> {
    if !phone.membership().await?.joined() {
        return Ok(true);
    }
    let progress = phone.progress().await?;
    Ok(progress.filled && progress.in_shop.is_none() && progress.history.is_none())
}

/// SHA-256 by the browser.
pub(super) struct Browser;

impl Sha256Digest for Browser {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        sha256(&Uint8Array::from(bytes))
            .await
            .map_err(|thrown| error_words(&thrown))
    }
}
