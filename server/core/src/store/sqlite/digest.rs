//! The digest that is stored with each entry, so that `waxend check` notices any change that this program did not make.

use sha2::{Digest as _, Sha256};
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Row, Sqlite, SqlitePool, Transaction};

use super::rows::{self, COLUMNS};
use super::to_i64;
use crate::store::{DatabaseError, StoredEntry};

/// Entries of an earlier version that get their digests in one transaction.
const SOME: i64 = 1_000;

/// The SHA-256 of all that is stored of an entry. What is hashed in which order never changes: digests that an earlier
/// version has stored are compared with it.
pub(super) fn digest(stored: &StoredEntry) -> [u8; 32] {
    let entry = &stored.held.entry;
    let numbers = [
        to_i64(stored.seq),
        to_i64(stored.subject_seq),
        entry.stamp.ms.0,
        i64::from(entry.stamp.counter),
        entry.made_at.utc.0,
        i64::from(entry.made_at.offset_min),
        to_i64(entry.device_seq),
        i64::from(entry.version),
        stored.held.received.unwrap_or_default().0,
    ];
    let person = entry
        .person
        .map(|person| person.0.as_bytes().to_vec())
        .unwrap_or_default();
    let over = rows::over_bytes(&entry.over).unwrap_or_default();
    let texts: [&[u8]; 8] = [
        entry.id.0.as_bytes(),
        entry.subject.kind.as_str().as_bytes(),
        entry.subject.id.0.as_bytes(),
        entry.device.0.as_bytes(),
        &person,
        &over,
        entry.kind.as_bytes(),
        entry.body.as_bytes(),
    ];
    let mut hasher = Sha256::new();
    for number in numbers {
        hasher.update(number.to_be_bytes());
    }
    for text in texts {
        hasher.update((text.len() as u64).to_be_bytes());
        hasher.update(text);
    }
    hasher.finalize().into()
}

/// The entry in a row of [`COLUMNS`] and, after them, the digest; `None` if it cannot be read or is another one than was
/// stored.
pub(super) fn intact(row: &SqliteRow) -> Option<StoredEntry> {
    let stored = rows::stored(row, 0).ok()?;
    let sealed: Vec<u8> = row.try_get(COLUMNS.split(',').count()).ok()?;
    (sealed == digest(&stored)).then_some(stored)
}

/// Stores the digest of an entry that was changed in this transaction.
pub(super) async fn seal(tx: &mut Transaction<'static, Sqlite>, seq: u64) -> Result<(), DatabaseError> {
    let sql = format!("SELECT {COLUMNS} FROM entries e WHERE e.seq = $1");
    let found = sqlx::query(AssertSqlSafe(sql))
        .bind(to_i64(seq))
        .fetch_optional(&mut **tx)
        .await?;
    match found {
        Some(row) => put(tx, &rows::stored(&row, 0)?).await,
        None => Ok(()),
    }
}

/// Gives the entries of earlier versions their digests. One that cannot be read gets none, which the check reports.
pub(super) async fn seal_former(writer: &SqlitePool) -> Result<(), DatabaseError> {
    let lacking = "SELECT seq FROM entries WHERE sha256 IS NULL LIMIT 1";
    if sqlx::query(lacking).fetch_optional(writer).await?.is_none() {
        return Ok(());
    }
    let sql = format!(
        "SELECT {COLUMNS} FROM entries e WHERE e.sha256 IS NULL AND e.seq > $1 ORDER BY e.seq LIMIT {SOME}"
    );
    let mut last = Some(0);
    while let Some(after) = last {
        let mut tx = writer.begin_with("BEGIN IMMEDIATE").await?;
        let found = sqlx::query(AssertSqlSafe(sql.clone()))
            .bind(after)
            .fetch_all(&mut *tx)
            .await?;
        for stored in found.iter().filter_map(|row| rows::stored(row, 0).ok()) {
            put(&mut tx, &stored).await?;
        }
        tx.commit().await?;
        last = found.last().map(|row| row.try_get::<i64, _>(0)).transpose()?;
    }
    Ok(())
}

async fn put(tx: &mut Transaction<'static, Sqlite>, stored: &StoredEntry) -> Result<(), DatabaseError> {
    sqlx::query("UPDATE entries SET sha256 = $2 WHERE seq = $1")
        .bind(to_i64(stored.seq))
        .bind(digest(stored).to_vec())
        .execute(&mut **tx)
        .await?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use shared::log::entry::Stamp;
    use shared::log::{
        DeviceId, Entry, EntryId, MadeAt, PersonId, ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs,
    };
    use uuid::Uuid;

    use super::*;

    fn sample() -> StoredEntry {
        let id = Uuid::from_u128;
        let entry = Entry {
            id: EntryId(id(1)),
            subject: Subject::new(SubjectKind::Pair, SubjectId(id(2))),
            stamp: Stamp {
                ms: UnixMs(3),
                counter: 4,
            },
            made_at: MadeAt {
                utc: UnixMs(5),
                offset_min: 6,
            },
            device: DeviceId(id(7)),
            device_seq: 8,
            person: Some(PersonId(id(9))),
            over: vec![EntryId(id(10)), EntryId(id(11))],
            kind: "note".to_owned(),
            version: 12,
            body: "{}".to_owned(),
        };
        let held = ReceivedEntry {
            entry,
            received: Some(UnixMs(13)),
        };
        StoredEntry {
            held,
            seq: 14,
            subject_seq: 15,
        }
    }

    /// Computed once with Python's `hashlib` from the layout that `digest` describes.
    #[test]
    fn what_is_hashed_never_changes() {
        assert_eq!(
            hex::encode(digest(&sample())),
            "86cb147e4af82e7e57025f145f92c8b41756fe0e4ba682f533d0be8fc58c1459"
        );
    }

    #[test]
    fn every_field_counts() {
        let changes: [fn(&mut StoredEntry); 17] = [
            |stored| stored.seq += 1,
            |stored| stored.subject_seq += 1,
            |stored| stored.held.received = Some(UnixMs(14)),
            |stored| stored.held.entry.id = EntryId(Uuid::from_u128(99)),
            |stored| stored.held.entry.subject.kind = SubjectKind::Job,
            |stored| stored.held.entry.subject.id = SubjectId(Uuid::from_u128(99)),
            |stored| stored.held.entry.stamp.ms.0 += 1,
            |stored| stored.held.entry.stamp.counter += 1,
            |stored| stored.held.entry.made_at.utc.0 += 1,
            |stored| stored.held.entry.made_at.offset_min += 1,
            |stored| stored.held.entry.device = DeviceId(Uuid::from_u128(99)),
            |stored| stored.held.entry.device_seq += 1,
            |stored| stored.held.entry.person = None,
            |stored| stored.held.entry.over.clear(),
            |stored| stored.held.entry.kind.push('s'),
            |stored| stored.held.entry.version += 1,
            |stored| stored.held.entry.body.clear(),
        ];
        let mut seen = std::collections::BTreeSet::from([digest(&sample())]);
        for change in changes {
            let mut other = sample();
            change(&mut other);
            assert!(seen.insert(digest(&other)), "{other:?}");
        }
    }
}
