//! What the device does that no first screen waits for: writing, syncing, pictures from the server, the household.
//!
//! A piece of the app, fetched apart as later screens are (`screens/pieces.rs`). Each function is the way into it.

use futures_util::future::LocalBoxFuture;
use shared::log::fold::State;
use shared::log::{PersonId, Subject, SubjectId};
use wasm_split_helpers::{SplitLoaderError, wasm_split};

use super::Phone;
use super::network::{Contact, Outcome, Watch, round};
use super::pictures;
use super::store::{Draft, NewBlob, Saved, Size, StoreError};

/// What a piece answers, later.
pub type Answer<T> = Result<LocalBoxFuture<'static, Result<T, StoreError>>, StoreError>;

impl From<SplitLoaderError> for StoreError {
    fn from(_: SplitLoaderError) -> Self {
        Self::Missing
    }
}

/// Saves in one transaction: see [`KvStore::save`](super::store::KvStore::save).
#[wasm_split(log, fallible, preload(/** Fetches the piece. */ fetch_log))]
pub fn save(phone: Phone, drafts: Vec<Draft>, blobs: Vec<NewBlob>) -> Answer<Saved> {
    Ok(Box::pin(async move { phone.save(drafts, blobs).await }))
}

/// Destroys bytes everywhere: see [`KvStore::erase_blob`](super::store::KvStore::erase_blob).
#[wasm_split(log, fallible)]
pub fn erase_blob(phone: Phone, subject: Subject, sha256: String, person: Option<PersonId>) -> Answer<Saved> {
    Ok(Box::pin(async move {
        phone.erase_blob(subject, sha256, person).await
    }))
}

/// Keeps what is half done: see [`KvStore::keep_draft`](super::store::KvStore::keep_draft).
#[wasm_split(log, fallible)]
pub fn keep_draft(phone: Phone, name: &'static str, text: Option<String>) -> Answer<()> {
    Ok(Box::pin(async move { phone.keep_draft(name, text).await }))
}

/// One round of sync.
#[wasm_split(log, fallible)]
pub(super) fn sync(phone: Phone, contact: Contact, mut watch: Watch) -> Answer<Outcome> {
    Ok(Box::pin(
        async move { Ok(round(&phone, contact, &mut *watch).await) },
    ))
}

/// What the shop's own entries say: see [`KvStore::shop_state`](super::store::KvStore::shop_state).
#[wasm_split(log, fallible)]
pub fn shop_state(phone: Phone) -> Answer<State> {
    Ok(Box::pin(async move { phone.shop_state().await }))
}

/// Works off what an update of the app or a large batch has left: see [`KvStore::freshen`](super::store::KvStore::freshen).
#[wasm_split(log, fallible)]
pub fn freshen(phone: Phone) -> Answer<()> {
    Ok(Box::pin(async move { phone.freshen().await }))
}

/// The household for quiet moments.
#[wasm_split(log, fallible)]
pub(super) fn keep_house(phone: Phone) -> Answer<()> {
    Ok(Box::pin(async move {
        phone.keep_house().await;
        Ok(())
    }))
}

/// A picture from the server, kept here from then on; `None` where it is not to be had now.
#[wasm_split(log, fallible)]
pub(super) fn picture(
    phone: Phone,
    sha256: String,
    subject: SubjectId,
    size: Size,
) -> Answer<Option<Vec<u8>>> {
    Ok(Box::pin(async move {
        pictures::from_server(&phone, &sha256, subject, size).await
    }))
}
