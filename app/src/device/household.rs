//! What the store does in quiet moments.

use shared::log::UnixMs;

use super::phone::Phone;
use super::storage::storage;
use app_core::store::{Compacted, Surroundings};

/// How long after the hand-over full photographs stay, when room is short.
const KEPT_DAYS: i64 = 30;

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
