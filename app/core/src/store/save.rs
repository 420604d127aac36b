//! Saving: drafts become entries, and their photographs stored bytes, in one transaction.

use shared::log::body::{Body, Detail, Erased, Note, field};
use shared::log::clock::next_ms;
use shared::log::{Draft, Entry, EntryId, MadeAt, PersonId, ReceivedEntry, Stamp, Subject};

use super::KvStore;
use super::blobs::{self, NewBlob, Origin};
use super::error::StoreError;
use super::ingest;
use super::kv::{Kv, Mode};
use super::meta::Meta;
use super::summaries;
use super::surroundings::Surroundings;

/// What a save has written. It is durable, and only then shown as saved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Saved {
    /// The entries, in the order of the drafts.
    pub entries: Vec<ReceivedEntry>,
    /// The tag numbers allotted, in the order of the drafts that asked for one.
    pub tags: Vec<String>,
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// Writes drafts and blobs, all or none. They are on the disk before this returns, and survive a power cut: what
    /// was shown as saved stays saved.
    ///
    /// # Errors
    /// [`StoreError::Kv`] with [`super::kv::KvError::Full`] if there is no space; [`StoreError::Envelope`] or
    /// [`StoreError::Empty`] for a draft that cannot become an entry; [`StoreError::NewerApp`].
    pub async fn save(&self, drafts: Vec<Draft>, blobs: Vec<NewBlob>) -> Result<Saved, StoreError> {
        let mut writing = self.write(Mode::WriteStrict).await?;
        let places = blobs::places(&drafts);
        let saved = self.stamp(&mut writing.meta, drafts)?;
        let placed = blobs.into_iter().map(|blob| {
            let place = places.get(&blob.about.sha256).ok_or(StoreError::Unnamed)?;
            Ok((blob, *place))
        });
        let placed = placed.collect::<Result<_, StoreError>>()?;
        blobs::keep(&mut writing, placed, Origin::Here, self.around.wall()).await?;
        let touched = ingest::add(&mut writing, saved.entries.clone()).await?;
        summaries::refresh(&mut writing, touched).await?;
        self.finish(writing).await?;
        Ok(saved)
    }

    /// Erases everything about these subjects for good: earlier and later entries, on this device and wherever it
    /// syncs. On a device that has joined a shop nothing is erased before the server has accepted it; if the server takes
    /// no more today, a request for it is made instead.
    ///
    /// # Errors
    /// As [`KvStore::save`].
    pub async fn erase(&self, subjects: Vec<Subject>, person: Option<PersonId>) -> Result<Saved, StoreError> {
        let draft = |subject| Draft::new(subject, Body::Erased(Erased { blob: None })).by(person);
        self.save(subjects.into_iter().map(draft).collect(), Vec::new())
            .await
    }

    /// Destroys a photograph or voice note for good, as [`KvStore::erase`] erases a subject. `subject` is the one it was
    /// recorded for.
    ///
    /// # Errors
    /// As [`KvStore::save`].
    pub async fn erase_blob(
        &self,
        subject: Subject,
        sha256: String,
        person: Option<PersonId>,
    ) -> Result<Saved, StoreError> {
        let draft = Draft::new(subject, Body::Erased(Erased { blob: Some(sha256) })).by(person);
        self.save(vec![draft], Vec::new()).await
    }

    /// Makes entries of drafts: ids, stamps, running numbers, tag numbers.
    pub(super) fn stamp(&self, meta: &mut Meta, drafts: Vec<Draft>) -> Result<Saved, StoreError> {
        let wall = self.around.wall();
        let made_at = MadeAt {
            utc: wall,
            offset_min: self.around.offset_min().clamp(-1440, 1440),
        };
        let ms = next_ms(wall, meta.state.greatest());
        let mut saved = Saved {
            entries: Vec::new(),
            tags: Vec::new(),
        };
        for draft in drafts {
            let mut body = draft.body;
            if asks_for_tag(&body) {
                let tag = next_tag(meta);
                saved.tags.push(tag.clone());
                body = Body::Detail(Detail {
                    field: field::TAG.to_owned(),
                    value: tag.into(),
                });
            }
            let (kind, body) = body.kind().zip(body.to_text()).ok_or(StoreError::Empty)?;
            meta.state.device_seq += 1;
            let entry = Entry {
                id: EntryId(self.around.uuid_v7()),
                subject: draft.subject,
                stamp: Stamp::of(ms, meta.state.device_seq),
                made_at,
                device: meta.device.id,
                device_seq: meta.state.device_seq,
                person: draft.person,
                over: draft.over,
                kind: kind.to_owned(),
                version: 1,
                body,
            };
            entry.check()?;
            saved.entries.push(ReceivedEntry::unsent(entry));
        }
        Ok(saved)
    }

    /// Writes one entry of any kind with an unchanged body, as an app of another version would write it.
    ///
    /// # Errors
    /// As [`KvStore::save`].
    pub async fn save_raw(
        &self,
        subject: Subject,
        kind: &str,
        version: u32,
        body: &str,
    ) -> Result<ReceivedEntry, StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        // Stamped as an empty note, whose body is then replaced.
        let draft = Draft::new(
            subject,
            Body::Note(Note {
                of: None,
                text: String::new(),
                voice: None,
            }),
        );
        let saved = self.stamp(&mut writing.meta, vec![draft])?;
        let mut received = saved.entries.into_iter().next().ok_or(StoreError::Empty)?;
        received.entry.kind = kind.to_owned();
        received.entry.version = version;
        received.entry.body = body.to_owned();
        received.entry.check()?;
        let touched = ingest::add(&mut writing, vec![received.clone()]).await?;
        summaries::refresh(&mut writing, touched).await?;
        self.finish(writing).await?;
        Ok(received)
    }
}

/// Whether a body is that of [`Draft::next_tag`].
fn asks_for_tag(body: &Body) -> bool {
    matches!(body, Body::Detail(detail) if detail.field == field::TAG && detail.value.is_null())
}

/// Allots the next tag number. It is never used twice: the number increases whatever letters are before it.
fn next_tag(meta: &mut Meta) -> String {
    meta.state.tag += 1;
    let number = meta.state.tag;
    match (&meta.membership.letters, &meta.device.tag_mark) {
        (Some(letters), _) => format!("{letters}{number}"),
        (None, Some(mark)) => format!("{mark}-{number}"),
        (None, None) => number.to_string(),
    }
}
