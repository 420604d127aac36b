//! Backup to one file, without a server: writing it.

mod archive_file;
mod restoring;

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use shared::log::{DeviceId, EntryId, Erasures, SubjectId, UnixMs};
use uuid::Uuid;

use super::KvStore;
use super::blobs::{self, Info, Size};
use super::block;
use super::error::StoreError;
use super::kv::{Kv, KvTx, Mode, Row};
use super::meta::encode;
use super::record::Record;
use super::surroundings::{Sha256Digest, Surroundings};
use super::tables::{BLOB_INFO, BLOBS, BLOCKS, TAIL, THUMBS};
use archive_file::Writer;

/// The section of the file that describes the backup.
const ABOUT: &str = "about";
/// The section of the file with entries, one record in each line.
const ENTRIES: &str = "entries";
/// The section of the file with the bytes of one blob.
const BLOB: &str = "blob";

/// What a backup contains.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scope {
    /// Entries and blobs that no server has confirmed.
    Unsynced,
    /// Everything on the device.
    All,
}

/// The contents of a backup that was restored.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Restored {
    /// The number of entries in the file.
    pub entries: usize,
    /// The number of photographs, thumbnails and voice notes in the file.
    pub blobs: usize,
}

/// The description of a backup. It never contains the token or the letters: a restored copy is another device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct BackupHeader {
    made: UnixMs,
    device: DeviceId,
    /// The shop to which the entries belong, if the device ever joined one.
    #[serde(default)]
    shop: Option<Uuid>,
    /// The device's own shop subject from before it joined.
    own_shop: SubjectId,
    #[serde(default)]
    erasures: Erasures,
}

/// The further fields in the line of a blob's section.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct BlobLine {
    media_type: String,
    #[serde(default)]
    width: u32,
    #[serde(default)]
    height: u32,
    subject: SubjectId,
    size: Size,
    #[serde(default)]
    confirmed: bool,
}

/// A section without further fields in its line.
#[derive(Serialize)]
struct Nothing {}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// Writes a backup to `sink` in pieces, one archive page or one picture at a time.
    ///
    /// # Errors
    /// If the database fails or SHA-256 is not available.
    pub async fn write_backup(
        &self,
        scope: Scope,
        digest: &impl Sha256Digest,
        sink: &mut dyn FnMut(Vec<u8>),
    ) -> Result<(), StoreError> {
        let mut writer = Writer::new(digest, sink);
        // The tail is read before the archive: an entry that is archived meanwhile is then in one of them, or in both.
        let mut page = BackupCursor::Tail(String::new());
        let mut waiting = BTreeSet::new();
        while let Some(next) = self.backup_page(scope, page, &mut waiting, &mut writer).await? {
            page = next;
        }
        self.backup_blobs(scope, &mut writer).await?;
        // Read last, so that it contains erasures made while the file was being written.
        let meta = self.meta().await?;
        let about = BackupHeader {
            made: self.around.wall(),
            device: meta.device.id,
            shop: meta.membership.shop,
            own_shop: meta.device.own_shop,
            erasures: meta.erasures,
        };
        writer
            .section(ABOUT, &Nothing {}, encode(&about).into_bytes())
            .await?;
        Ok(writer.end().await?)
    }

    /// Writes one page of entries. Returns the next cursor, or `None` at the end. `waiting` collects the entries that
    /// no server has acknowledged: an older copy of such an entry in the archive is marked as acknowledged, and is left
    /// out.
    async fn backup_page<D: Sha256Digest>(
        &self,
        scope: Scope,
        page: BackupCursor,
        waiting: &mut BTreeSet<EntryId>,
        writer: &mut Writer<'_, D>,
    ) -> Result<Option<BackupCursor>, StoreError> {
        let (table, after, limit) = match &page {
            BackupCursor::Tail(after) => (TAIL, after, 1000),
            BackupCursor::Archive(after) => (BLOCKS, after, 16),
        };
        let tx = self.kv.begin(&[table], Mode::Read).await?;
        let rows = tx.after(table, after, limit).await?;
        drop(tx);
        let Some(last) = rows.last().map(|row| row.key.clone()) else {
            return Ok(match (page, scope) {
                (BackupCursor::Tail(_), Scope::All) => Some(BackupCursor::Archive(String::new())),
                _ => None,
            });
        };
        let mut text = String::new();
        for record in rows
            .iter()
            .flat_map(records)
            .filter(|record| within(scope, record))
        {
            let id = record.received.entry.id;
            if record.is_acknowledged() && waiting.contains(&id) {
                continue;
            }
            if !record.is_acknowledged() {
                waiting.insert(id);
            }
            text.push_str(&encode(&record));
            text.push('\n');
        }
        if !text.is_empty() {
            writer.section(ENTRIES, &Nothing {}, text.into_bytes()).await?;
        }
        Ok(Some(match page {
            BackupCursor::Tail(_) => BackupCursor::Tail(last),
            BackupCursor::Archive(_) => BackupCursor::Archive(last),
        }))
    }

    async fn backup_blobs<D: Sha256Digest>(
        &self,
        scope: Scope,
        writer: &mut Writer<'_, D>,
    ) -> Result<(), StoreError> {
        let mut after = String::new();
        loop {
            let tx = self.kv.begin(&[BLOB_INFO], Mode::Read).await?;
            let rows = tx.after(BLOB_INFO, &after, 200).await?;
            drop(tx);
            let Some(last) = rows.last() else { return Ok(()) };
            after.clone_from(&last.key);
            for row in &rows {
                let Some(info) = Info::read(row) else { continue };
                if info.present && (scope == Scope::All || !info.confirmed) {
                    self.backup_blob(&row.key, info, writer).await?;
                }
            }
        }
    }

    async fn backup_blob<D: Sha256Digest>(
        &self,
        sha256: &str,
        info: Info,
        writer: &mut Writer<'_, D>,
    ) -> Result<(), StoreError> {
        let tx = self.kv.begin(&[BLOBS, THUMBS], Mode::Read).await?;
        let bytes = blobs::bytes(&tx, sha256).await?;
        drop(tx);
        let Some(bytes) = bytes else { return Ok(()) };
        let line = BlobLine {
            media_type: info.media_type,
            width: info.width,
            height: info.height,
            subject: info.subject,
            size: info.size,
            confirmed: info.confirmed,
        };
        Ok(writer.section(BLOB, &line, bytes).await?)
    }
}

/// The position of the next rows to read: after a key of the tail or of the archive.
enum BackupCursor {
    Tail(String),
    Archive(String),
}

/// The records in a row of the tail or of the archive.
fn records(row: &Row) -> Vec<Record> {
    match Record::read(row) {
        Some(record) => vec![record],
        None => block::entries(row).map(Record::acknowledged).collect(),
    }
}

fn within(scope: Scope, record: &Record) -> bool {
    scope == Scope::All || (!record.is_acknowledged() && !record.aside)
}
