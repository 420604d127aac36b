//! Saving on a phone.

use app_core::store::{NewBlob, StoreError};
use shared::log::Draft;

use crate::phone::Store;
use crate::seen::Seen;

/// Saves, and remembers what was shown as saved.
pub(crate) async fn keep(
    store: &Store,
    seen: &Seen,
    drafts: Vec<Draft>,
    blobs: Vec<NewBlob>,
) -> Result<(), StoreError> {
    let bytes = blobs.clone();
    let saved = store.save(drafts, blobs).await?;
    seen.saved(&saved, bytes);
    Ok(())
}
