//! Restoring a backup, on a new device or on one that has entries of its own.

use serde::de::DeserializeOwned;
use shared::log::SubjectId;
use shared::log::body::Blob;

use super::archive_file::{FileSection, read};
use super::{ABOUT, BLOB, BackupHeader, BlobLine, ENTRIES, Restored};
use crate::store::KvStore;
use crate::store::blobs::{self, BlobPlace, NewBlob, Origin};
use crate::store::change::Touched;
use crate::store::error::{BackupError, StoreError};
use crate::store::ingest;
use crate::store::kv::{Kv, Mode};
use crate::store::record::Record;
use crate::store::summaries;
use crate::store::surroundings::{Sha256Digest, Surroundings};
use crate::store::sync::writes_of;

/// How many entries are restored in one transaction.
const CHUNK: usize = 2000;

/// Letters that cannot be mistaken for others or for digits.
const CLEAR: &[u8; 20] = b"ACDEFGHJKLMNPRTUVWXY";

/// A backup that was checked to the last byte.
struct CheckedBackup<'a> {
    about: BackupHeader,
    records: Vec<Record>,
    blobs: Vec<(BlobLine, String, &'a [u8])>,
}

impl CheckedBackup<'_> {
    /// Whether the file marks any entry or blob as received by a server.
    fn vouches(&self) -> bool {
        self.records
            .iter()
            .any(|record| record.received.received.is_some())
            || self.blobs.iter().any(|(line, ..)| line.confirmed)
    }
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// Restores a backup: merges it with what the device has. Restoring the same file twice changes nothing more.
    ///
    /// The device keeps its own id, so a copy never writes as its original; what was unsent in the file is unsent here.
    ///
    /// # Errors
    /// [`StoreError::Backup`] for a file that is cut, damaged or not a backup, and [`StoreError::OtherShop`] for one of
    /// another shop: then nothing was written. Otherwise as for every write; restoring again then completes it.
    pub async fn read_backup(&self, file: &[u8], digest: &impl Sha256Digest) -> Result<Restored, StoreError> {
        let checked = check(file, digest).await?;
        let restored = Restored {
            entries: checked.records.len(),
            blobs: checked.blobs.len(),
        };
        self.restore_about(&checked).await?;
        // Blobs are stored before the entries that name them, so that no crash leaves an entry without its picture.
        for (line, sha256, bytes) in checked.blobs {
            self.restore_blob(line, sha256, bytes).await?;
        }
        let mut records = checked.records;
        while !records.is_empty() {
            let rest = records.split_off(records.len().min(CHUNK));
            let mut writing = self.write(Mode::Write).await?;
            let touched = ingest::take(&mut writing, records).await?;
            summaries::refresh(&mut writing, touched).await?;
            self.finish(writing).await?;
            records = rest;
        }
        Ok(restored)
    }

    /// Takes over the shop of the backup, and its erasures.
    async fn restore_about(&self, checked: &CheckedBackup<'_>) -> Result<(), StoreError> {
        let about = checked.about.clone();
        let mut writing = self.write(Mode::Write).await?;
        let meta = &mut writing.meta;
        if meta
            .membership
            .shop
            .zip(about.shop)
            .is_some_and(|(here, there)| here != there)
        {
            return Err(StoreError::OtherShop);
        }
        let copy = about.device != meta.device.id;
        meta.membership.shop = meta.membership.shop.or(about.shop);
        // The server may have lost entries that the file marks as acknowledged.
        meta.progress.compare |= checked.vouches();
        if copy && meta.membership.letters.is_none() && meta.device.tag_mark.is_none() {
            meta.device.tag_mark = Some(tag_mark(self.around.random()));
        }
        let own = meta.device.own_shop;
        if copy && own != about.own_shop {
            if writes_of(&writing, own).await? {
                let theirs = about.shop.map_or(about.own_shop, SubjectId);
                self.say_same_shop(&mut writing, own, theirs).await?;
            } else {
                writing.meta.device.own_shop = about.own_shop;
            }
        }
        let mut touched = Touched::default();
        ingest::take_erasures(&mut writing, about.erasures, &mut touched).await?;
        summaries::refresh(&mut writing, touched).await?;
        self.finish(writing).await
    }

    async fn restore_blob(&self, line: BlobLine, sha256: String, bytes: &[u8]) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::WriteStrict).await?;
        let about = Blob {
            sha256,
            media_type: line.media_type,
            bytes: bytes.len() as u64,
            width: line.width,
            height: line.height,
        };
        let place = BlobPlace {
            subject: line.subject,
            size: line.size,
        };
        let origin = if line.confirmed {
            Origin::Server
        } else {
            Origin::Here
        };
        let blob = NewBlob {
            about,
            bytes: bytes.to_vec(),
        };
        blobs::keep(&mut writing, vec![(blob, place)], origin, self.around.wall()).await?;
        self.finish(writing).await
    }
}

/// Four random letters before the tag numbers of a copy.
fn tag_mark(random: [u8; 16]) -> String {
    random[..4]
        .iter()
        .map(|byte| char::from(CLEAR[usize::from(*byte) % CLEAR.len()]))
        .collect()
}

/// Reads and checks a whole file.
async fn check<'a>(file: &'a [u8], digest: &impl Sha256Digest) -> Result<CheckedBackup<'a>, BackupError> {
    let mut about = None;
    let mut records = Vec::new();
    let mut blobs = Vec::new();
    for section in read(file, digest).await? {
        match section.kind()?.as_str() {
            ABOUT => about = Some(json::<BackupHeader>(section.bytes)?),
            ENTRIES => read_records(&section, &mut records)?,
            BLOB => blobs.push((section.says()?, section.sha256()?, section.bytes)),
            _ => {}
        }
    }
    Ok(CheckedBackup {
        about: about.ok_or(BackupError::Damaged)?,
        records,
        blobs,
    })
}

fn read_records(section: &FileSection<'_>, records: &mut Vec<Record>) -> Result<(), BackupError> {
    for line in section
        .bytes
        .split(|byte| *byte == b'\n')
        .filter(|line| !line.is_empty())
    {
        let mut record: Record = json(line)?;
        // No server has received or refused it: it must still be sent, even if the file does not mark it as unsent.
        let is_settled = record.received.received.is_some() || record.refused.is_some() || record.retired;
        record.unsent |= !is_settled;
        records.push(record);
    }
    Ok(())
}

fn json<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, BackupError> {
    // Through text, as everywhere: reading JSON from bytes would need a second reader in the wasm.
    let text = std::str::from_utf8(bytes).map_err(|_| BackupError::Damaged)?;
    serde_json::from_str(text).map_err(|_| BackupError::Damaged)
}
