//! Opening the store of this phone.

use std::time::Duration;

use leptos::prelude::set_timeout;
use leptos::task::spawn_local;

use super::lazy;
use super::phone::Phone;
use crate::device::DeviceError;
use app_core::browser::BrowserDevice;
use app_core::store::idb::Idb;

/// The name of the database in IndexedDB. It must never change.
const NAME: &str = "waxend";

/// How long after opening the maintenance begins, so that the screens can read first.
const QUIET: Duration = Duration::from_secs(5);

/// Opens the store, and schedules its maintenance.
///
/// # Errors
/// [`StoreError::Kv`](app_core::store::StoreError::Kv) with `Blocked` while another tab of an older app is in the way; other database failures.
pub async fn open_phone() -> Result<Phone, DeviceError> {
    let phone = Phone::open(Idb::new(NAME), BrowserDevice).await?;
    let at_leisure = phone.clone();
    set_timeout(move || spawn_local(maintenance(at_leisure)), QUIET);
    Ok(phone)
}

/// The store's maintenance. Its errors are ignored: nothing depends on it, and a broken database also fails at the next
/// write.
async fn maintenance(phone: Phone) {
    drop(lazy::run_maintenance(phone).await);
}
