//! Photographs and voice notes: their bytes by hash, and the state of each.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use shared::log::body::{Blob, MentionErased};
use shared::log::{Body, SubjectId, UnixMs};
use shared::sync::Problem;
use shared::sync::machine::BlobSettled;

use super::error::StoreError;
use super::kv::{KvTx, Row, RowValue, Table};
use super::meta::{More, StoreCounts, encode};
use super::tables::{BLOB_INFO, BLOBS, THUMBS, index};
use super::writing::Writing;
use shared::log::Draft;

/// The two sizes of a picture; a voice note is [`Size::Full`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Size {
    /// The full picture as it was stored.
    Full,
    /// The thumbnail for lists.
    Thumb,
}

impl Size {
    fn table(self) -> Table {
        match self {
            Size::Full => BLOBS,
            Size::Thumb => THUMBS,
        }
    }
}

/// Bytes to store, with the description that entries contain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewBlob {
    /// The description in entries; its hash is that of `bytes`.
    pub about: Blob,
    /// The content.
    pub bytes: Vec<u8>,
}

/// Which subject a blob belongs to, and its size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BlobPlace {
    /// The subject of the entry that names it: a job, for a photograph.
    pub subject: SubjectId,
    /// Its size.
    pub size: Size,
}

/// The subjects and sizes of the blobs that drafts name, by hash.
pub(super) fn places(drafts: &[Draft]) -> BTreeMap<String, BlobPlace> {
    let named = drafts.iter().flat_map(|draft| {
        let subject = draft.subject.id;
        named(&draft.body)
            .into_iter()
            .map(move |(hash, size)| (hash, BlobPlace { subject, size }))
    });
    named.collect()
}

/// The blobs that a body adds to the log.
pub(super) fn named(body: &Body) -> Vec<(String, Size)> {
    match body {
        Body::Photo(photo) => {
            vec![
                (photo.full.sha256.clone(), Size::Full),
                (photo.thumb.sha256.clone(), Size::Thumb),
            ]
        }
        Body::Note(note) => note
            .voice
            .iter()
            .map(|voice| (voice.sha256.clone(), Size::Full))
            .collect(),
        // What is left of a remark can be its voice note.
        Body::MentionErased(MentionErased { left: Some(left), .. }) => named(&Body::of_value("note", left)),
        _ => Vec::new(),
    }
}

/// A blob to be sent to the server.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outgoing {
    /// SHA-256 of the bytes.
    pub sha256: String,
    /// Its media type, for example `image/jpeg`.
    pub media_type: String,
    /// The content.
    pub bytes: Vec<u8>,
}

/// The state of a blob on this device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Info {
    pub(super) media_type: String,
    pub(super) bytes: u64,
    #[serde(default)]
    pub(super) width: u32,
    #[serde(default)]
    pub(super) height: u32,
    /// The subject of the entry that names it.
    pub(super) subject: SubjectId,
    pub(super) size: Size,
    pub(super) added: UnixMs,
    /// How often sending it has failed.
    #[serde(default)]
    pub(super) attempts: u32,
    /// Whether a server has stored it.
    #[serde(default)]
    pub(super) confirmed: bool,
    /// Why a server refused it.
    #[serde(default)]
    pub(super) parked: Option<Problem>,
    /// Whether the bytes are on this device; they may be deleted once a server has them.
    pub(super) present: bool,
    #[serde(flatten)]
    more: More,
}

impl Info {
    pub(super) fn read(row: &Row) -> Option<Info> {
        serde_json::from_str(row.as_text()?).ok()
    }

    fn waits(&self) -> bool {
        self.present && !self.confirmed && self.parked.is_none()
    }

    fn row(&self, sha256: &str) -> Row {
        let mut row = Row::text(sha256, encode(self));
        if self.waits() {
            // Those that failed least often first, then those of the newest job, then thumbnails before full pictures.
            let order = u8::from(self.size == Size::Full);
            let job = u64::MAX - opened_at(self.subject);
            row.indexed.push((
                index::UNSENT,
                format!("{:06}{job:020}{order}{sha256}", self.attempts),
            ));
        }
        if self.parked.is_some() {
            row.indexed.push((index::PARKED, sha256.to_owned()));
        }
        if self.present && self.confirmed && self.size == Size::Full {
            row.indexed
                .push((index::EVICTABLE, format!("{}{sha256}", self.subject)));
        }
        row
    }

    /// Adds this blob to the counters, or subtracts it.
    pub(super) fn count(&self, counts: &mut StoreCounts, change: fn(u64, u64) -> u64) {
        if !self.present {
            return;
        }
        counts.blobs = change(counts.blobs, 1);
        counts.bytes = change(counts.bytes, self.bytes);
        counts.unsent_blobs = change(counts.unsent_blobs, u64::from(self.waits()));
        counts.parked_blobs = change(counts.parked_blobs, u64::from(self.parked.is_some()));
    }
}

/// When a subject was opened, from its id: the milliseconds of a UUIDv7, otherwise 0.
fn opened_at(subject: SubjectId) -> u64 {
    match subject.0.get_version_num() {
        7 => u64::try_from(subject.0.as_u128() >> 80).unwrap_or(0),
        _ => 0,
    }
}

/// Writes the state of a blob, and updates the counters.
fn put<T: KvTx>(writing: &mut Writing<T>, sha256: &str, before: Option<&Info>, now: &Info) {
    let counts = &mut writing.meta.state.counts;
    if let Some(before) = before {
        before.count(counts, u64::saturating_sub);
    }
    now.count(counts, u64::saturating_add);
    writing.tx().put(BLOB_INFO, now.row(sha256));
}

/// The states of these blobs, in the given order.
pub(super) async fn infos<T: KvTx>(tx: &T, hashes: &[String]) -> Result<Vec<Option<Info>>, StoreError> {
    let rows = tx.get_many(BLOB_INFO, hashes).await?;
    Ok(rows.iter().map(|row| row.as_ref().and_then(Info::read)).collect())
}

async fn info<T: KvTx>(tx: &T, sha256: &str) -> Result<Option<Info>, StoreError> {
    Ok(infos(tx, &[sha256.to_owned()]).await?.pop().flatten())
}

/// Where bytes come from, and so whether a server has them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Origin {
    /// Made on this device, or restored before a server had them.
    Here,
    /// Fetched from a server, or restored after a server had confirmed them.
    Server,
}

/// Stores bytes, unless they were erased. Bytes that are already stored stay as they are. The states of all of them are
/// read at once: a photograph and its thumbnail are saved together while a person waits.
pub(super) async fn keep<T: KvTx>(
    writing: &mut Writing<T>,
    mut blobs: Vec<(NewBlob, BlobPlace)>,
    origin: Origin,
    now: UnixMs,
) -> Result<(), StoreError> {
    let erasures = &writing.meta.erasures;
    let mut hashes: Vec<String> = Vec::with_capacity(blobs.len());
    blobs.retain(|(NewBlob { about, .. }, place)| {
        let erased = erasures.covers_blob(&about.sha256) || erasures.subjects.contains(&place.subject);
        // For a tiny picture, both can be the same blob.
        let wanted = !erased && !hashes.contains(&about.sha256);
        if wanted {
            hashes.push(about.sha256.clone());
        }
        wanted
    });
    let known = infos(writing.tx(), &hashes).await?;
    for ((blob, place), before) in blobs.into_iter().zip(known) {
        keep_one(writing, blob, place, before.as_ref(), origin, now);
    }
    Ok(())
}

fn keep_one<T: KvTx>(
    writing: &mut Writing<T>,
    NewBlob { about, bytes }: NewBlob,
    place: BlobPlace,
    before: Option<&Info>,
    origin: Origin,
    now: UnixMs,
) {
    if before.is_some_and(|info| info.present) {
        return;
    }
    let after = match before {
        Some(known) => Info {
            present: true,
            ..known.clone()
        },
        None => Info {
            media_type: about.media_type,
            bytes: bytes.len() as u64,
            width: about.width,
            height: about.height,
            subject: place.subject,
            size: place.size,
            added: now,
            attempts: 0,
            confirmed: origin == Origin::Server,
            parked: None,
            present: true,
            more: More::new(),
        },
    };
    let row = Row {
        key: about.sha256.clone(),
        indexed: Vec::new(),
        value: RowValue::Bytes(bytes),
    };
    writing.tx().put(after.size.table(), row);
    put(writing, &about.sha256, before, &after);
}

/// The subject whose entry named a blob first.
pub(super) async fn filed_under<T: KvTx>(
    writing: &Writing<T>,
    sha256: &str,
) -> Result<Option<SubjectId>, StoreError> {
    Ok(info(writing.tx(), sha256).await?.map(|info| info.subject))
}

/// Deletes bytes and their state.
pub(super) async fn destroy<T: KvTx>(writing: &mut Writing<T>, sha256: &str) -> Result<(), StoreError> {
    if let Some(info) = info(writing.tx(), sha256).await? {
        info.count(&mut writing.meta.state.counts, u64::saturating_sub);
    }
    for table in [BLOB_INFO, BLOBS, THUMBS] {
        writing.tx().delete(table, sha256);
    }
    Ok(())
}

/// Deletes the bytes of a blob that a server has confirmed; its state stays.
pub(super) fn evict<T: KvTx>(writing: &mut Writing<T>, sha256: &str, before: &Info) {
    if !before.confirmed {
        return;
    }
    writing.tx().delete(before.size.table(), sha256);
    let after = Info {
        present: false,
        ..before.clone()
    };
    put(writing, sha256, Some(before), &after);
}

/// Stores the outcomes for blobs that were sent.
pub(super) async fn settle<T: KvTx>(
    writing: &mut Writing<T>,
    settled: &[(String, BlobSettled)],
) -> Result<(), StoreError> {
    let hashes: Vec<_> = settled.iter().map(|(hash, _)| hash.clone()).collect();
    let known = infos(writing.tx(), &hashes).await?;
    for ((hash, became), before) in settled.iter().zip(known) {
        let Some(before) = before else { continue };
        let mut after = before.clone();
        match became {
            BlobSettled::Stored => {
                after.confirmed = true;
                after.parked = None;
            }
            BlobSettled::Later => after.attempts = after.attempts.saturating_add(1),
            BlobSettled::Parked(problem) => after.parked = Some(problem.clone()),
        }
        put(writing, hash, Some(&before), &after);
    }
    Ok(())
}

/// Marks these blobs as not confirmed, if their bytes are on this device and can be sent again.
pub(super) async fn want<T: KvTx>(writing: &mut Writing<T>, hashes: &[String]) -> Result<(), StoreError> {
    let infos = infos(writing.tx(), hashes).await?;
    for (hash, info) in hashes.iter().zip(infos) {
        if let Some(before) = info.filter(|info| info.confirmed && info.present) {
            let now = Info {
                confirmed: false,
                ..before.clone()
            };
            put(writing, hash, Some(&before), &now);
        }
    }
    Ok(())
}

/// Changes the state of every blob for which `change` returns true.
pub(super) async fn change_all<T: KvTx>(
    writing: &mut Writing<T>,
    change: impl Fn(&mut Info),
) -> Result<(), StoreError> {
    let mut after = String::new();
    loop {
        let rows = writing.tx().after(BLOB_INFO, &after, 1000).await?;
        let Some(last) = rows.last() else { return Ok(()) };
        after.clone_from(&last.key);
        for row in &rows {
            let Some(before) = Info::read(row) else { continue };
            let mut now = before.clone();
            change(&mut now);
            if now != before {
                put(writing, &row.key, Some(&before), &now);
            }
        }
    }
}

/// The bytes of a blob in either size; `None` if they are not on this device.
pub(super) async fn bytes<T: KvTx>(tx: &T, sha256: &str) -> Result<Option<Vec<u8>>, StoreError> {
    match bytes_in(tx, THUMBS, sha256).await? {
        Some(bytes) => Ok(Some(bytes)),
        None => bytes_in(tx, BLOBS, sha256).await,
    }
}

/// The bytes under a hash in one table.
pub(super) async fn bytes_in<T: KvTx>(
    tx: &T,
    table: Table,
    sha256: &str,
) -> Result<Option<Vec<u8>>, StoreError> {
    match tx.get(table, sha256).await? {
        Some(Row {
            value: RowValue::Bytes(bytes),
            ..
        }) => Ok(Some(bytes)),
        _ => Ok(None),
    }
}

/// A blob with its bytes, as it is sent to a server; `None` if they are not on this device.
pub(super) async fn outgoing<T: KvTx>(tx: &T, sha256: &str) -> Result<Option<Outgoing>, StoreError> {
    let (info, bytes) = (info(tx, sha256).await?, bytes(tx, sha256).await?);
    Ok(info.zip(bytes).map(|(info, bytes)| Outgoing {
        sha256: sha256.to_owned(),
        media_type: info.media_type,
        bytes,
    }))
}
