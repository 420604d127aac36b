//! What an erasure destroys on the device: the bodies of entries, in the tail and the archive, and the bytes of blobs.
//!
//! On a device that has joined a shop an erasure destroys nothing before the server has accepted it: a helper's device may
//! not erase, and a server takes few erasures in a day.

use std::collections::BTreeSet;

use shared::log::body::MentionErased;
use shared::log::{Body, Entry, Erasures, ReceivedEntry, SubjectId, inserted, is_erasure};

use super::blobs;
use super::block::{self, ArchiveRow};
use super::change::{RecordChange, Touched};
use super::error::StoreError;
use super::kv::{KvTx, Row};
use super::meta::Meta;
use super::record::Record;
use super::tables::{BLOCKS, META, TAIL, index};
use super::writing::Writing;

/// Notes the erasures among `changes`, blanks the changes they cover, and blanks stored entries. Returns the subjects
/// whose erasure is new on this device, or newly known to be on a server.
pub(super) async fn apply<T: KvTx>(
    writing: &mut Writing<T>,
    changes: &mut [RecordChange],
    touched: &mut Touched,
) -> Result<BTreeSet<SubjectId>, StoreError> {
    let news = news(&mut writing.meta, changes);
    let mut bodies = Vec::new();
    for change in changes.iter_mut() {
        let full = change.received().clone();
        if writing.meta.erasures.blank(&mut change.received_mut().entry) {
            bodies.push(full);
        }
        bodies.extend(change.blanks().cloned());
    }
    let acknowledged = changes.iter().filter_map(RecordChange::acknowledges_erasure);
    let mut erased: BTreeSet<_> = inserted(acknowledged.map(|received| received.entry.subject.id));
    erased.extend(news.about());
    destroy(writing, news, bodies, touched).await?;
    Ok(erased)
}

/// Notes erasures that were learnt without their entries, and destroys what they name. Returns the subjects whose
/// erasure is new.
pub(super) async fn extend<T: KvTx>(
    writing: &mut Writing<T>,
    mut more: Erasures,
    touched: &mut Touched,
) -> Result<BTreeSet<SubjectId>, StoreError> {
    let known = &writing.meta.erasures;
    more.subjects.retain(|subject| !known.subjects.contains(subject));
    more.blobs.retain(|hash| !known.blobs.contains(hash));
    more.mentions.retain(|mention| !known.mentions.contains(mention));
    more.named_again
        .retain(|named| !known.named_again.contains(named));
    writing.meta.erasures.extend(more.clone());
    let erased = more.about();
    destroy(writing, more, Vec::new(), touched).await?;
    Ok(erased)
}

/// Destroys what is stored about newly erased subjects and blobs, and the bytes that blanked entries named.
async fn destroy<T: KvTx>(
    writing: &mut Writing<T>,
    news: Erasures,
    mut bodies: Vec<ReceivedEntry>,
    touched: &mut Touched,
) -> Result<(), StoreError> {
    let about = news.about();
    if !about.is_empty() {
        blank_tail(writing, &about, &mut bodies).await?;
        blank_archive(writing, &about, &mut bodies).await?;
        forget_drafts(writing, &news.subjects).await?;
    }
    let mut hashes = news.blobs;
    for received in &bodies {
        touched.note(received);
        let entry = &received.entry;
        if !writing.meta.erasures.covers_kind(&entry.subject, &entry.kind) {
            // What is erased of a mention are its words: the photographs stay.
            continue;
        }
        for (hash, _) in blobs::named(&innermost(Body::of(&received.entry))) {
            // If the same picture was recorded for another subject first, it belongs to that one.
            if blobs::filed_under(writing, &hash).await? == Some(received.entry.subject.id) {
                hashes.insert(hash);
            }
        }
    }
    for hash in hashes {
        blobs::destroy(writing, &hash).await?;
    }
    Ok(())
}

/// What an erased mention has left of an entry can be another erased mention. Returns the last of them; else the body
/// itself.
fn innermost(mut body: Body) -> Body {
    while let Body::MentionErased(MentionErased { left: Some(left), .. }) = &body {
        match Body::of_value("mention_erased", left) {
            Body::Unknown => break,
            inner => body = inner,
        }
    }
    body
}

/// Whether a record is an erasure that has no effect yet. A device that never joined a shop erases at once.
pub(super) fn waits(meta: &Meta, record: &Record) -> bool {
    let entry = &record.received.entry;
    is_erasure(&entry.kind)
        && meta.membership.shop.is_some()
        && !record.is_acknowledged()
        && !is_known(&meta.erasures, entry)
}

/// Whether what an entry erases has been erased already.
fn is_known(erasures: &Erasures, entry: &Entry) -> bool {
    let mut one = Erasures::default();
    one.note(entry) && one.is_within(erasures)
}

/// Notes every erasure among the changes that has an effect; returns the new ones.
fn news(meta: &mut Meta, changes: &[RecordChange]) -> Erasures {
    let mut news = Erasures::default();
    for change in changes.iter().filter(|change| change.is_read()) {
        let entry = &change.received().entry;
        if meta.erasures.note(entry) {
            news.note(entry);
        }
    }
    news
}

/// Blanks the rows of the tail about these subjects.
async fn blank_tail<T: KvTx>(
    writing: &mut Writing<T>,
    subjects: &BTreeSet<SubjectId>,
    bodies: &mut Vec<ReceivedEntry>,
) -> Result<(), StoreError> {
    let values: Vec<_> = subjects.iter().map(SubjectId::to_string).collect();
    let rows = writing.tx().by_index(TAIL, index::ABOUT, &values).await?;
    for mut record in rows.iter().flatten().filter_map(Record::read) {
        let full = record.received.clone();
        if writing.meta.erasures.blank(&mut record.received.entry) {
            writing.tx().put(TAIL, record.row());
            bodies.push(full);
        }
    }
    Ok(())
}

/// Rewrites the archive rows that contain entries about these subjects.
async fn blank_archive<T: KvTx>(
    writing: &mut Writing<T>,
    subjects: &BTreeSet<SubjectId>,
    bodies: &mut Vec<ReceivedEntry>,
) -> Result<(), StoreError> {
    let values: Vec<_> = subjects.iter().map(SubjectId::to_string).collect();
    let keys: Vec<_> = writing.lookup.blocks_about(&values).await?.into_iter().collect();
    for row in writing.tx().get_many(BLOCKS, &keys).await?.into_iter().flatten() {
        let (packed, mut blanked) = blank_row(&writing.meta, &row);
        if !blanked.is_empty() {
            writing.lookup.put_block(&row.key, packed);
            bodies.append(&mut blanked);
        }
    }
    Ok(())
}

/// An archive row with erased entries blanked, and these entries as they were before.
fn blank_row(meta: &Meta, row: &Row) -> (ArchiveRow, Vec<ReceivedEntry>) {
    let mut packed = ArchiveRow::default();
    let mut blanked = Vec::new();
    for line in block::lines(row) {
        let Some(mut received) = block::parse(line) else {
            packed.push_line(line);
            continue;
        };
        let full = received.clone();
        if meta.erasures.blank(&mut received.entry) {
            blanked.push(full);
        }
        packed.push(&received);
    }
    (packed, blanked)
}

/// Deletes unfinished input that mentions these subjects.
async fn forget_drafts<T: KvTx>(
    writing: &Writing<T>,
    subjects: &BTreeSet<SubjectId>,
) -> Result<(), StoreError> {
    let ids: Vec<_> = subjects.iter().map(SubjectId::to_string).collect();
    for row in writing.tx().after(META, super::DRAFT, u32::MAX).await? {
        if !row.key.starts_with(super::DRAFT) {
            break;
        }
        if row
            .as_text()
            .is_some_and(|text| ids.iter().any(|id| text.contains(id)))
        {
            writing.tx().delete(META, &row.key);
        }
    }
    Ok(())
}
