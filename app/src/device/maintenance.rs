//! Maintenance of the store when the device is idle.

use shared::log::UnixMs;

use super::phone::Phone;
use super::storage::storage;
use app_core::store::{Compacted, Surroundings};

/// Full photographs stay for this many days after the hand-over, also when storage is short.
const KEPT_DAYS: i64 = 30;

/// Does the store's maintenance: builds the summaries that an app update or a large batch has left undone, then moves
/// closed pairs into the archive (compaction), then, if storage is short, removes full photographs that the server
/// holds and nobody has opened for a while.
pub(super) async fn run_maintenance(phone: Phone) {
    drop(phone.rebuild_summaries().await);
    while let Ok(Compacted::Partly) = phone.compact().await {}
    if storage().await.is_short() {
        let before = phone.surroundings().wall().0 - KEPT_DAYS * 24 * 60 * 60 * 1000;
        drop(phone.evict_full_photos(UnixMs(before)).await);
    }
}
