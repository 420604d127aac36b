//! Sends refused entries and blobs again, stores and deletes bytes of blobs, and stores unfinished input.

use std::collections::BTreeMap;

use shared::log::{SubjectId, UnixMs};

use crate::store::blobs::{self, BlobPlace, Info, NewBlob, Origin};
use crate::store::error::StoreError;
use crate::store::ingest;
use crate::store::kv::{Kv, KvTx, Mode, Row};
use crate::store::lookup::Lookup;
use crate::store::surroundings::Surroundings;
use crate::store::tables::{BLOB_INFO, META, index};
use crate::store::{KvStore, draft_key};

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// Makes refused entries and parked blobs to be sent again in the next round.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn retry_refused(&self) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        ingest::send_refused_again(&mut writing, |_| true).await?;
        blobs::change_all(&mut writing, |info| info.parked = None).await?;
        self.finish(writing).await
    }

    /// Stores bytes that were fetched from the server.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn keep_blob(&self, blob: NewBlob, place: BlobPlace) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        blobs::keep(
            &mut writing,
            vec![(blob, place)],
            Origin::Server,
            self.around.wall(),
        )
        .await?;
        self.finish(writing).await
    }

    /// Deletes full-size photographs from the device that a server has confirmed and whose job was handed over before
    /// `before`. They are fetched again when needed. Returns how many bytes became free.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn evict_full_photos(&self, before: UnixMs) -> Result<u64, StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        let rows = writing
            .tx()
            .in_index(BLOB_INFO, index::EVICTABLE, "", u32::MAX)
            .await?;
        let mut by_job: BTreeMap<SubjectId, Vec<(String, Info)>> = BTreeMap::new();
        for row in rows {
            let Some(info) = Info::read(&row) else { continue };
            by_job.entry(info.subject).or_default().push((row.key, info));
        }
        let mut free = 0;
        for (job, photos) in by_job {
            if !handed_over_before(&writing.lookup, job, before).await? {
                continue;
            }
            for (hash, info) in photos {
                blobs::evict(&mut writing, &hash, &info);
                free += info.bytes;
            }
        }
        self.finish(writing).await?;
        Ok(free)
    }

    /// Stores unfinished input under a name; `None` deletes it.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn keep_draft(&self, name: &str, text: Option<String>) -> Result<(), StoreError> {
        let writing = self.write(Mode::Write).await?;
        let key = draft_key(name);
        match text {
            Some(text) => writing.tx().put(META, Row::text(key, text)),
            None => writing.tx().delete(META, &key),
        }
        self.finish(writing).await
    }
}

/// Whether the standing hand-over of a job was made before a time.
async fn handed_over_before<T: KvTx>(
    lookup: &Lookup<T>,
    job: SubjectId,
    before: UnixMs,
) -> Result<bool, StoreError> {
    let about = lookup.about(&[job]).await?;
    let own = about
        .iter()
        .flatten()
        .filter(|received| received.entry.subject.id == job);
    let state = shared::log::fold::JobState::of(own);
    Ok(state.handed_over.is_some_and(|slot| slot.current.at.utc < before))
}
