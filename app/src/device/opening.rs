//! Opening the store of this phone.

use std::time::Duration;

use leptos::prelude::set_timeout;
use leptos::task::spawn_local;

use super::lazy;
use super::phone::Phone;
use crate::device::DeviceError;
use app_core::browser::BrowserDevice;
use app_core::store::idb::Idb;

/// The name of the database; never changes.
const NAME: &str = "waxend";

/// After the start, the screens read first.
const QUIET: Duration = Duration::from_secs(5);

/// Opens the store; its household follows a while later.
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
