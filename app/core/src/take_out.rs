//! Everything as files that other programs read, made on the phone alone: one archive with tables, entries and
//! photographs.
//!
//! ```text
//! README.txt               what is where; which columns the tables have (`forms.rs`)
//! customers.csv pairs.csv tickets.csv jobs.csv work.csv money.csv notes.csv photographs.csv prices.csv
//! entries/0001.jsonl …     every entry, one a line
//! pairs/a12-brown-derby/2026-03-02-half-sole.jpg …
//! ```
//!
//! It is written in pieces: one picture, one page of pairs, or one file of entries at a time; only the tables are kept
//! until the end.

mod forms;
mod names;
mod prices;
mod read_me;
mod tables;
mod tar;

use std::collections::BTreeSet;

use shared::log::body::{Blob, Note, OperationCode, Photo};
use shared::log::fold::{Item, JobState, PairHistory, ShopState, summary};
use shared::log::{EntryId, MadeAt, ReceivedEntry, SubjectId, UnixMs};

use crate::pair_history::day_of;
use crate::store::kv::{Kv, KvError};
use crate::store::{EntriesCursor, KvStore, StoreError, Surroundings};
use names::SafeNames;
use tables::{TakenTables, moment, opened_by};
use tar::TarWriter;

/// How many pairs are folded at a time.
const PAIRS: u32 = 64;
/// How many tickets without a pair are read at a time.
const TICKETS: u32 = 256;
/// A file of entries ends with the page that makes it this long, in bytes.
const ENTRIES_FILE: usize = 4 << 20;

/// What was taken out.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct FilesTakenOut {
    /// The number of pairs.
    pub pairs: usize,
    /// The number of photographs in full.
    pub photographs: usize,
    /// The number of photographs that are not on this device in full.
    pub missing: usize,
}

/// Writes everything on this device to `sink` as one tar archive, in pieces.
///
/// # Errors
/// When the database fails, or an entry cannot be written as JSON.
pub async fn take_out<K: Kv, S: Surroundings>(
    store: &KvStore<K, S>,
    sink: &mut dyn FnMut(Vec<u8>),
) -> Result<FilesTakenOut, StoreError> {
    let shop = store.shop_state().await?;
    let around = store.surroundings();
    let now = MadeAt {
        utc: around.wall(),
        offset_min: around.offset_min(),
    };
    let mut files = OpenArchive {
        store,
        archive: TarWriter::new(sink),
        tables: TakenTables::new(&shop),
        folders: SafeNames::default(),
        jobs: BTreeSet::new(),
        now: now.utc,
        done: FilesTakenOut::default(),
    };
    files.read_me(&shop, now);
    files.entries().await?;
    files.pairs().await?;
    files.sales().await?;
    for alone in store.search_customers("", usize::MAX).await? {
        files.tables.customer(alone.id, &alone.state);
    }
    Ok(files.end())
}

/// The archive, as far as it is written.
struct OpenArchive<'a, K, S> {
    store: &'a KvStore<K, S>,
    archive: TarWriter<'a>,
    tables: TakenTables<'a>,
    /// The names of the folders of pairs.
    folders: SafeNames,
    /// The entries that opened the jobs that were written.
    jobs: BTreeSet<EntryId>,
    now: UnixMs,
    done: FilesTakenOut,
}

/// The folder of a pair.
struct PairFolder {
    pair: SubjectId,
    name: String,
    files: SafeNames,
}

impl<K: Kv, S: Surroundings> OpenArchive<'_, K, S> {
    fn read_me(&mut self, shop: &ShopState, now: MadeAt) {
        let text = read_me::read_me(shop, &moment(now));
        self.archive.file("README.txt", self.now, text.into_bytes());
    }

    /// Writes the tables, and ends the archive.
    fn end(mut self) -> FilesTakenOut {
        for (name, text) in self.tables.files() {
            self.archive.file(name, self.now, text.into_bytes());
        }
        self.archive.end();
        self.done
    }

    async fn entries(&mut self) -> Result<(), StoreError> {
        let (mut text, mut number) = (String::new(), 0_u32);
        let mut cursor = Some(EntriesCursor::default());
        while let Some(at) = cursor {
            let (entries, next) = self.store.entries_page(at).await?;
            for received in &entries {
                text.push_str(&json(received)?);
                text.push('\n');
            }
            if text.len() >= ENTRIES_FILE || (next.is_none() && !text.is_empty()) {
                number += 1;
                let bytes = std::mem::take(&mut text).into_bytes();
                let name = format!("entries/{number:04}.jsonl");
                self.archive.file(&name, self.now, bytes);
            }
            cursor = next;
        }
        Ok(())
    }

    async fn pairs(&mut self) -> Result<(), StoreError> {
        let mut after = None;
        loop {
            let pairs = self.store.pairs_after(after, PAIRS).await?;
            let Some(last) = pairs.last() else { return Ok(()) };
            after = Some(*last);
            for history in self.store.pair_histories(&pairs).await? {
                self.pair(&history).await?;
                self.done.pairs += 1;
            }
        }
    }

    /// A pair with its jobs, tickets and customers.
    async fn pair(&mut self, history: &PairHistory) -> Result<(), StoreError> {
        let tag = history.jobs.values().rev().find_map(JobState::tag);
        let words = [tag.unwrap_or_default(), &summary::title(&history.pair)].join(" ");
        let mut folder = PairFolder {
            pair: history.id,
            name: self.folders.next(&words, "pair"),
            files: SafeNames::default(),
        };
        self.tables.pair(history, &folder.name);
        for note in &history.pair.notes {
            self.note(("pair", history.id), note, &mut folder).await?;
        }
        for (id, job) in &history.jobs {
            if opened_by(job).is_none_or(|entry| self.jobs.insert(entry)) {
                self.job(*id, job, &mut folder).await?;
            }
        }
        for (id, ticket) in history.tickets.iter() {
            if self.tables.ticket(*id, ticket) {
                for note in &ticket.notes {
                    self.note(("ticket", *id), note, &mut folder).await?;
                }
            }
        }
        for (id, customer) in history.customers.iter() {
            self.tables.customer(*id, customer);
        }
        Ok(())
    }

    async fn job(
        &mut self,
        id: SubjectId,
        job: &JobState,
        folder: &mut PairFolder,
    ) -> Result<(), StoreError> {
        self.tables.job(id, folder.pair, job);
        for photo in &job.photos {
            self.photograph(id, photo, folder).await?;
        }
        for note in &job.notes {
            self.note(("job", id), note, folder).await?;
        }
        Ok(())
    }

    async fn photograph(
        &mut self,
        job: SubjectId,
        item: &Item<Photo>,
        folder: &mut PairFolder,
    ) -> Result<(), StoreError> {
        let photo = &item.body;
        let shown = photo
            .operation
            .as_ref()
            .map_or(photo.shows.as_str(), OperationCode::as_str);
        let full = self.store.blob(&photo.full.sha256).await?;
        let (file, stored) = if let Some(bytes) = full {
            self.done.photographs += 1;
            let file = self.blob(item.at, shown, &photo.full, bytes, folder);
            (file, "full")
        } else {
            self.done.missing += 1;
            match self.store.blob(&photo.thumb.sha256).await? {
                Some(bytes) => (self.blob(item.at, shown, &photo.thumb, bytes, folder), "small"),
                None => (String::new(), "missing"),
            }
        };
        self.tables.photograph([folder.pair, job], item, &file, stored);
        Ok(())
    }

    /// A remark about a subject, with its recording.
    async fn note(
        &mut self,
        (kind, about): (&str, SubjectId),
        item: &Item<Note>,
        folder: &mut PairFolder,
    ) -> Result<(), StoreError> {
        let mut file = String::new();
        if let Some(voice) = &item.body.voice
            && let Some(bytes) = self.store.blob(&voice.sha256).await?
        {
            file = self.blob(item.at, "note", voice, bytes, folder);
        }
        self.tables.note(kind, about, item, &file);
        Ok(())
    }

    /// Writes a file into the folder of a pair. Returns its name with its folders.
    fn blob(
        &mut self,
        at: MadeAt,
        shows: &str,
        about: &Blob,
        bytes: Vec<u8>,
        folder: &mut PairFolder,
    ) -> String {
        let day = day_of(at).map(|day| day.to_string()).unwrap_or_default();
        let name = folder.files.next(&[day.as_str(), shows].join(" "), "file");
        let ending = ending(&about.media_type);
        let file = ["pairs/", &folder.name, "/", &name, ending].concat();
        self.archive.file(&file, at.utc, bytes);
        file
    }

    /// The tickets without a pair, on which goods were sold.
    async fn sales(&mut self) -> Result<(), StoreError> {
        let mut after = None;
        loop {
            let (sales, next) = self.store.sales_after(after, TICKETS).await?;
            for sale in &sales {
                self.tables.ticket(sale.ticket, &sale.state);
                for note in &sale.state.notes {
                    self.tables.note("ticket", sale.ticket, note, "");
                }
                if let Some(customer) = sale.state.customer() {
                    self.tables.customer(customer, &sale.customer);
                }
            }
            if next.is_none() {
                return Ok(());
            }
            after = next;
        }
    }
}

/// An entry as JSON on one line.
fn json(received: &ReceivedEntry) -> Result<String, StoreError> {
    serde_json::to_string(received).map_err(|error| KvError::Other(error.to_string()).into())
}

/// The ending of the name of a file of this media type.
fn ending(media_type: &str) -> &'static str {
    match media_type.split(';').next().unwrap_or_default() {
        "image/jpeg" => ".jpg",
        "image/webp" => ".webp",
        "image/png" => ".png",
        "audio/webm" => ".webm",
        "audio/mp4" => ".m4a",
        "audio/ogg" => ".ogg",
        _ => ".bin",
    }
}
