//! Converts entries to rows and back.

use shared::log::entry::Stamp;
use shared::log::{
    DeviceId, Entry, EntryId, MadeAt, PersonId, ReceivedEntry, Subject, SubjectId, SubjectKind,
};
use sqlx::query_builder::Separated;
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, Sqlite};
use uuid::Uuid;

use super::{ms, to_i64, to_u64};
use crate::store::{BlobHash, DatabaseError, PushedBy, StoredEntry};

/// The columns of `entries`, in the order [`push`] writes and [`stored`] reads them.
pub(super) const COLUMNS: &str = "e.seq, e.id, e.subject_kind, e.subject_id, e.subject_seq, e.stamp_ms, \
    e.counter, e.made_utc, e.made_offset, e.device, e.device_seq, e.person, e.over, e.kind, e.version, e.body, \
    e.received";

/// The columns of `entries` that say who has pushed an entry and when. The digest covers them too.
pub(super) const PUSHED: &str = "e.pushed_by, e.arrived";

/// Adds the values of an entry, who has pushed it, and its digest to an insert of many rows.
pub(super) fn push<'a>(
    mut row: Separated<'_, Sqlite, &'static str>,
    stored: &'a StoredEntry,
    pushed_by: PushedBy,
    digest: [u8; 32],
) {
    let entry: &'a Entry = &stored.held.entry;
    row.push_bind(to_i64(stored.seq));
    row.push_bind(entry.id.0);
    row.push_bind(entry.subject.kind.as_str().to_owned());
    row.push_bind(entry.subject.id.0);
    row.push_bind(to_i64(stored.subject_seq));
    row.push_bind(entry.stamp.ms.0);
    row.push_bind(i64::from(entry.stamp.counter));
    row.push_bind(entry.made_at.utc.0);
    row.push_bind(i64::from(entry.made_at.offset_min));
    row.push_bind(entry.device.0);
    row.push_bind(to_i64(entry.device_seq));
    row.push_bind(entry.person.map(|p| p.0));
    row.push_bind(over_bytes(&entry.over));
    row.push_bind(entry.kind.clone());
    row.push_bind(i64::from(entry.version));
    row.push_bind(entry.body.clone());
    row.push_bind(stored.held.received.map(|r| r.0));
    row.push_bind(pushed_by.device.map(|device| device.0));
    row.push_bind(pushed_by.at.0);
    row.push_bind(digest.to_vec());
}

/// Reads an entry from the columns from `at` on.
pub(super) fn stored(row: &SqliteRow, at: usize) -> Result<StoredEntry, DatabaseError> {
    let int = |i: usize| row.try_get::<i64, _>(at + i);
    let id = |i: usize| row.try_get::<Uuid, _>(at + i);
    let entry = Entry {
        id: EntryId(id(1)?),
        subject: subject(row.try_get(at + 2)?, id(3)?),
        stamp: Stamp {
            ms: ms(int(5)?),
            counter: narrow(int(6)?)?,
        },
        made_at: MadeAt {
            utc: ms(int(7)?),
            offset_min: narrow(int(8)?)?,
        },
        device: DeviceId(id(9)?),
        device_seq: to_u64(int(10)?)?,
        person: row.try_get::<Option<Uuid>, _>(at + 11)?.map(PersonId),
        over: over_ids(row.try_get::<Option<&[u8]>, _>(at + 12)?)?,
        kind: row.try_get(at + 13)?,
        version: narrow(int(14)?)?,
        body: row.try_get(at + 15)?,
    };
    let held = ReceivedEntry {
        entry,
        received: Some(ms(int(16)?)),
    };
    Ok(StoredEntry {
        held,
        seq: to_u64(int(0)?)?,
        subject_seq: to_u64(int(4)?)?,
    })
}

/// The subject of an entry, from its two columns.
pub(super) fn subject(kind: &str, id: Uuid) -> Subject {
    Subject::new(SubjectKind::from(kind), SubjectId(id))
}

/// A hash that SQLite has stored.
pub(super) fn hash(bytes: &[u8]) -> Result<BlobHash, DatabaseError> {
    bytes
        .try_into()
        .map(BlobHash)
        .map_err(|_| DatabaseError::Damaged("a hash of the wrong length"))
}

fn narrow<T: TryFrom<i64>>(value: i64) -> Result<T, DatabaseError> {
    T::try_from(value).map_err(|_| DatabaseError::Damaged("a number out of range"))
}

pub(super) fn over_bytes(ids: &[EntryId]) -> Option<Vec<u8>> {
    (!ids.is_empty()).then(|| ids.iter().flat_map(|id| *id.0.as_bytes()).collect())
}

fn over_ids(bytes: Option<&[u8]>) -> Result<Vec<EntryId>, DatabaseError> {
    let (ids, rest) = bytes.unwrap_or_default().as_chunks::<16>();
    if !rest.is_empty() {
        return Err(DatabaseError::Damaged("a list of ids of the wrong length"));
    }
    Ok(ids.iter().map(|id| EntryId(Uuid::from_bytes(*id))).collect())
}
