//! What the device does that no first screen waits for: writing, syncing, pictures from the server, the household.
//!
//! A piece of the app, fetched apart as later screens are (`screens/pieces.rs`). Each function is a way into it, and ends with
//! [`DeviceError::NotLoaded`] where the piece cannot be fetched; nothing was done then.

use futures_util::future::LocalBoxFuture;
use shared::log::SubjectId;
use shared::log::fold::ShopState;
use wasm_split_helpers::wasm_split;

use super::household;
use super::network::{self, Contact, Outcome, Watch};
use super::phone::Phone;
use crate::device::DeviceError;
use app_core::store::{NewBlob, Saved, Size};
use shared::log::Draft;

/// What is under way in the piece: the way in cannot be `async` itself.
pub(crate) type UnderWay<T> = LocalBoxFuture<'static, Result<T, DeviceError>>;

/// Asynchronous functions of the piece. Callers see `async fn name(…) -> Result<answer, DeviceError>`.
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

/// Nothing but a way to fetch the piece before anything of it is wanted.
#[wasm_split(log, fallible, preload(/** Fetches the piece. */ fetch_log))]
pub(crate) fn at_hand() -> Result<(), DeviceError> {
    Ok(())
}

lazy! {
    /// Saves in one transaction: see [`KvStore::save`](app_core::store::KvStore::save).
    pub fn save(phone: Phone, drafts: Vec<Draft>, blobs: Vec<NewBlob>) -> Saved {
        Ok(phone.save(drafts, blobs).await?)
    }

    /// Keeps what is half done: see [`KvStore::keep_draft`](app_core::store::KvStore::keep_draft).
    pub fn keep_draft(phone: Phone, name: &'static str, text: Option<String>) -> () {
        Ok(phone.keep_draft(name, text).await?)
    }

    /// One round of sync.
    pub(super) fn sync(phone: Phone, contact: Contact, watch: Watch) -> Outcome {
        Ok(network::round(&phone, contact, watch).await)
    }

    /// What the shop's own entries say: see [`KvStore::shop_state`](app_core::store::KvStore::shop_state).
    pub fn shop_state(phone: Phone) -> ShopState {
        Ok(phone.shop_state().await?)
    }

    /// Works off what an update of the app or a large batch has left: see [`KvStore::rebuild_summaries`](app_core::store::KvStore::rebuild_summaries).
    pub fn rebuild_summaries(phone: Phone) -> () {
        Ok(phone.rebuild_summaries().await?)
    }

    /// The household for quiet moments.
    pub(super) fn keep_house(phone: Phone) -> () {
        household::keep_house(phone).await;
        Ok(())
    }

    /// A picture from the server, kept here from then on; `None` where it is not to be had now.
    pub(super) fn picture(phone: Phone, sha256: String, subject: SubjectId, size: Size) -> Option<Vec<u8>> {
        network::picture(&phone, &sha256, subject, size).await
    }
}
