//! The store of this phone: the one on its browser's database.

use super::store::idb::Idb;
use super::store::{KvStore, StoreError};
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
