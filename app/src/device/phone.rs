//! The store of this phone: the one on its browser's database, with its browser's SHA-256.

use js_sys::Uint8Array;

use super::digest::sha256;
use super::js::error_words;
use super::store::idb::Idb;
use super::store::{Digest, KvStore, Restored, Scope, StoreError};
use super::surroundings::Device;

/// The name of the database; never changes.
const NAME: &str = "waxend";

/// The store as the app uses it.
pub type Phone = KvStore<Idb, Device>;

/// Opens it. Only the first start writes anything.
///
/// # Errors
/// [`StoreError::Kv`] with `Blocked` while another tab of an older app is in the way; other database failures.
pub async fn open_phone() -> Result<Phone, StoreError> {
    Phone::open(Idb::new(NAME), Device).await
}

impl Phone {
    /// A backup as one file.
    ///
    /// # Errors
    /// As [`KvStore::write_backup`].
    pub async fn backup(&self, scope: Scope) -> Result<Vec<u8>, StoreError> {
        let mut file = Vec::new();
        self.write_backup(scope, &Browser, &mut |piece| file.extend_from_slice(&piece))
            .await?;
        Ok(file)
    }

    /// Reads a backup in.
    ///
    /// # Errors
    /// As [`KvStore::read_backup`].
    pub async fn restore(&self, file: &[u8]) -> Result<Restored, StoreError> {
        self.read_backup(file, &Browser).await
    }
}

/// SHA-256 by the browser.
struct Browser;

impl Digest for Browser {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        sha256(&Uint8Array::from(bytes))
            .await
            .map_err(|thrown| error_words(&thrown))
    }
}
