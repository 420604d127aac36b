//! The store of this phone: the one on its browser's database, with its browser's SHA-256.

use std::time::Duration;

use js_sys::Uint8Array;
use leptos::prelude::set_timeout;
use leptos::task::spawn_local;
use shared::log::UnixMs;

use super::digest::sha256;
use super::lazy;
use super::storage::storage;
use crate::device::DeviceError;
use app_core::browser::BrowserDevice;
use app_core::browser::js::error_words;
use app_core::store::idb::Idb;
use app_core::store::{Compacted, KvStore, Restored, Scope, Sha256Digest, Surroundings};

/// The name of the database; never changes.
const NAME: &str = "waxend";

/// After the start, the screens read first.
const QUIET: Duration = Duration::from_secs(5);

/// How long after the hand-over full photographs stay, when room is short.
const KEPT_DAYS: i64 = 30;

/// The store as the app uses it.
pub type Phone = KvStore<Idb, BrowserDevice>;

/// Opens it.
///
/// # Errors
/// [`StoreError::Kv`](app_core::store::StoreError::Kv) with `Blocked` while another tab of an older app is in the way; other database failures.
pub async fn open_phone() -> Result<Phone, DeviceError> {
    let phone = Phone::open(Idb::new(NAME), BrowserDevice).await?;
    let at_leisure = phone.clone();
    set_timeout(move || spawn_local(household(at_leisure)), QUIET);
    Ok(phone)
}

/// Nothing depends on it today: a failure is met again by whatever is written next.
async fn household(phone: Phone) {
    drop(lazy::keep_house(phone).await);
}

/// Household for quiet moments: summaries that an update or a large batch has left behind, then the tail, then full
/// photographs that the server has and nobody has needed for a while.
pub(super) async fn keep_house(phone: Phone) {
    drop(phone.rebuild_summaries().await);
    while let Ok(Compacted::Partly) = phone.compact().await {}
    if storage().await.is_short() {
        let before = phone.surroundings().wall().0 - KEPT_DAYS * 24 * 60 * 60 * 1000;
        drop(phone.evict_full_photos(UnixMs(before)).await);
    }
}

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

/// Reads a backup in.
///
/// # Errors
/// As [`KvStore::read_backup`].
pub async fn restore(phone: &Phone, file: &[u8]) -> Result<Restored, DeviceError> {
    Ok(phone.read_backup(file, &Browser).await?)
}

/// SHA-256 by the browser.
struct Browser;

impl Sha256Digest for Browser {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        sha256(&Uint8Array::from(bytes))
            .await
            .map_err(|thrown| error_words(&thrown))
    }
}
