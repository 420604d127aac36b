//! A device that the shop has shut out deletes what the server has, once the server has proved that it was shut out. What
//! no server has taken stays.

use shared::log::fold::FOLD_VERSION;
use shared::sync::Problem;
use shared::sync::machine::Progress;
use shared::sync::messages::{ShutOutQuestion, shut_out_text};
use uuid::Uuid;

use crate::store::blobs::Info;
use crate::store::change::Touched;
use crate::store::error::StoreError;
use crate::store::kv::{KeyRange, Kv, KvTx, Mode, Row, Table};
use crate::store::meta::{Meta, Stale};
use crate::store::record::Record;
use crate::store::summaries;
use crate::store::surroundings::{Sha256Digest, Surroundings};
use crate::store::tables::{BLOB_INFO, BLOBS, BLOCKS, META, PAIRS, SALES, SEARCH, TAIL, THUMBS};
use crate::store::writing::Writing;
use crate::store::{DRAFT, KvStore};

/// Rows that are read at a time.
const PAGE: u32 = 1000;

/// The range of every key that the store writes: all are ASCII.
const EVERY_KEY: KeyRange<'static> = KeyRange {
    first: "",
    last: "\u{ffff}",
};

/// A device's access to its shop, and the question whether the shop has ended it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Access {
    token: String,
    shop: Uuid,
    question: ShutOutQuestion,
}

impl Access {
    /// `None` if the device has no token, or if it is not certain that the server has what the device believes to be
    /// there.
    fn of(meta: &Meta, nonce: Uuid) -> Option<Self> {
        let progress = Some(&meta.progress).filter(|progress| !progress.compare)?;
        Some(Self {
            token: meta.membership.token.clone()?,
            shop: meta.membership.shop?,
            question: ShutOutQuestion {
                device: meta.device.id,
                nonce,
                cursor: progress.cursor?,
                pushed: progress.pushed,
            },
        })
    }

    /// What the device asks.
    pub fn question(&self) -> &ShutOutQuestion {
        &self.question
    }

    /// The proof that only a server can give that has the token's SHA-256: see [`ShutOutProof`].
    ///
    /// # Errors
    /// If SHA-256 is not available; with the browser's message.
    ///
    /// [`ShutOutProof`]: shared::sync::messages::ShutOutProof
    pub async fn proof(&self, digest: &impl Sha256Digest) -> Result<String, String> {
        let mut bytes = from_hex(&digest.sha256(self.token.as_bytes()).await?);
        bytes.extend_from_slice(shut_out_text(&self.question, self.shop).as_bytes());
        digest.sha256(&bytes).await
    }
}

/// The bytes that these hex digits stand for.
fn from_hex(digits: &str) -> Vec<u8> {
    let starts = (0..digits.len()).step_by(2);
    starts
        .filter_map(|at| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok())
        .collect()
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// The device's access to its shop as it stands, with a new question.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn access(&self) -> Result<Option<Access>, StoreError> {
        Ok(Access::of(&self.meta().await?, self.around.uuid_v4()))
    }

    /// Notes that the shop has ended this access, and deletes everything that the server has: acknowledged entries,
    /// confirmed photographs and voice notes, and what was derived from them; also unfinished input. What no server has
    /// taken stays, and so do the device's id, its shop, its letters and the erasures it knows. After joining again, the
    /// device reads everything anew.
    ///
    /// Nothing is changed if the access or the progress is another one by now: the next round finds out again.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn wipe_confirmed(&self, access: &Access, problem: Problem) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::WriteStrict).await?;
        if Access::of(&writing.meta, access.question.nonce).as_ref() != Some(access) {
            return Ok(());
        }
        writing.meta.membership.token = None;
        writing.meta.membership.shut_out = Some(problem);
        writing.meta.progress = Progress::default();
        delete_derived(&mut writing);
        delete_unfinished(&writing).await?;
        delete_blobs(&mut writing).await?;
        let kept = delete_entries(&mut writing).await?;
        summaries::refresh(&mut writing, kept).await?;
        self.finish(writing).await?;
        drop(self.cache.take());
        Ok(())
    }
}

/// Deletes all summaries, rows of sales and search lines; those of the entries that stay are made again.
fn delete_derived<T: KvTx>(writing: &mut Writing<T>) {
    for table in [PAIRS, SALES, SEARCH] {
        writing.tx().delete_within(table, EVERY_KEY);
    }
    let state = &mut writing.meta.state;
    state.search_edition += 1;
    state.fold_version = FOLD_VERSION;
    writing.meta.stale = Stale::default();
}

async fn delete_unfinished<T: KvTx>(writing: &Writing<T>) -> Result<(), StoreError> {
    let rows = writing.tx().after(META, DRAFT, u32::MAX).await?;
    for row in rows.iter().take_while(|row| row.key.starts_with(DRAFT)) {
        writing.tx().delete(META, &row.key);
    }
    Ok(())
}

/// Deletes the photographs and voice notes that a server has confirmed.
async fn delete_blobs<T: KvTx>(writing: &mut Writing<T>) -> Result<(), StoreError> {
    let confirmed = |row: &Row| Info::read(row).filter(|info| info.confirmed);
    let mut after = String::new();
    loop {
        let rows = writing.tx().after(BLOB_INFO, &after, PAGE).await?;
        let Some(last) = rows.last() else { return Ok(()) };
        after.clone_from(&last.key);
        for info in rows.iter().filter_map(confirmed) {
            info.count(&mut writing.meta.state.counts, u64::saturating_sub);
        }
        let stays = |row: &Row| confirmed(row).is_none();
        delete_others(writing.tx(), &[BLOB_INFO, BLOBS, THUMBS], &rows, stays);
    }
}

/// Deletes the archive, and the entries of the tail that a server has. Returns what the entries that stay affect.
async fn delete_entries<T: KvTx>(writing: &mut Writing<T>) -> Result<Touched, StoreError> {
    writing.tx().delete_within(BLOCKS, EVERY_KEY);
    writing.meta.state.counts.entries = 0;
    let mut kept = Touched::default();
    let mut after = String::new();
    loop {
        let rows = writing.tx().after(TAIL, &after, PAGE).await?;
        let Some(last) = rows.last() else { return Ok(kept) };
        after.clone_from(&last.key);
        // A row that only a newer app can read may not have been sent.
        let stays = |row: &Row| Record::read(row).is_none_or(|record| !record.is_on_server());
        delete_others(writing.tx(), &[TAIL], &rows, stays);
        let records = rows.iter().filter_map(Record::read);
        for record in records.filter(|record| !record.is_on_server() && record.is_read()) {
            writing.meta.state.counts.entries += 1;
            kept.note(&record.received);
        }
    }
}

/// Deletes these rows, which must follow one another, from these tables, except those that stay.
fn delete_others<T: KvTx>(tx: &T, tables: &[Table], rows: &[Row], stays: impl Fn(&Row) -> bool) {
    for run in rows.split(stays) {
        if let (Some(first), Some(last)) = (run.first(), run.last()) {
            let span = KeyRange {
                first: &first.key,
                last: &last.key,
            };
            tables.iter().for_each(|table| tx.delete_within(*table, span));
        }
    }
}
