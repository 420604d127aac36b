//! What the device does that the first screen does not need: writing, syncing, pictures from the server, maintenance.
//!
//! This is a separate piece of the wasm that is loaded lazily, as the other screens are (`screens/lazy.rs`). Calling
//! one of these functions loads the piece first; the call fails with [`DeviceError::NotLoaded`] if that is impossible,
//! and then nothing was done.

use futures_util::future::LocalBoxFuture;
use shared::log::SubjectId;
use shared::log::fold::ShopState;
use wasm_split_helpers::wasm_split;

use super::maintenance;
use super::network;
use super::phone::Phone;
use crate::device::DeviceError;
use app_core::store::{NewBlob, Saved, Size};
use shared::log::Draft;

/// The future that a function of the piece returns: functions at which the bundler splits the wasm cannot be `async`
/// themselves.
pub(crate) type UnderWay<T> = LocalBoxFuture<'static, Result<T, DeviceError>>;

/// Declares asynchronous functions of the piece. Callers see `async fn name(…) -> Result<answer, DeviceError>`.
macro_rules! lazy {
    ($($(#[$said:meta])* $visible:vis fn $name:ident($($given:ident: $kind:ty),*) -> $answer:ty $work:block)+) => {
        $(
            $(#[$said])*
            #[wasm_split_helpers::wasm_split(
                log,
                fallible,
                return_wrapper(let under_way = _; { under_way.await } -> Result<$answer, crate::device::DeviceError>)
            )]
            $visible fn $name($($given: $kind),*) -> crate::device::lazy::UnderWay<$answer> {
                Box::pin(async move $work)
            }
        )+
    };
}
pub(crate) use lazy;

/// Does nothing. It exists so that the piece can be loaded before one of its functions is needed.
#[wasm_split(log, fallible, preload(/** Fetches the piece. */ fetch_log))]
pub(crate) fn at_hand() -> Result<(), DeviceError> {
    Ok(())
}

lazy! {
    /// Saves in one transaction: see [`KvStore::save`](app_core::store::KvStore::save).
    pub fn save(phone: Phone, drafts: Vec<Draft>, blobs: Vec<NewBlob>) -> Saved {
        Ok(phone.save(drafts, blobs).await?)
    }

    /// Stores unfinished input of a screen under a name: see
    /// [`KvStore::keep_draft`](app_core::store::KvStore::keep_draft).
    pub fn keep_draft(phone: Phone, name: &'static str, text: Option<String>) -> () {
        Ok(phone.keep_draft(name, text).await?)
    }

    /// What the shop's own entries say: see [`KvStore::shop_state`](app_core::store::KvStore::shop_state).
    pub fn shop_state(phone: Phone) -> ShopState {
        Ok(phone.shop_state().await?)
    }

    /// Builds summaries that an app update or a large batch has left undone: see
    /// [`KvStore::rebuild_summaries`](app_core::store::KvStore::rebuild_summaries).
    pub fn rebuild_summaries(phone: Phone) -> () {
        Ok(phone.rebuild_summaries().await?)
    }

    /// The store's maintenance when the device is idle.
    pub(super) fn run_maintenance(phone: Phone) -> () {
        maintenance::run_maintenance(phone).await;
        Ok(())
    }

    /// A picture from the server, stored on this device from then on; `None` if it cannot be had now.
    pub(super) fn picture(phone: Phone, sha256: String, subject: SubjectId, size: Size) -> Option<Vec<u8>> {
        network::picture(&phone, &sha256, subject, size).await
    }
}
