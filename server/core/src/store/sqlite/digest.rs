//! The digest that is stored with each entry, so that `waxend check` notices any change that this program did not make.

use sha2::{Digest as _, Sha256};
use shared::log::{DeviceId, UnixMs};
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Row, Sqlite, SqlitePool, Transaction};
use uuid::Uuid;

use super::rows::{self, COLUMNS, PUSHED};
use super::{ms, to_i64};
use crate::store::{DatabaseError, PushedBy, StoredEntry};

/// Entries of an earlier version that get their digests in one transaction.
const SOME: i64 = 1_000;

/// All that a digest covers. An earlier version has not stored who has pushed an entry and when.
#[derive(Debug, Clone)]
struct WholeEntry {
    stored: StoredEntry,
    pushed_by: Option<DeviceId>,
    arrived: Option<UnixMs>,
}

impl WholeEntry {
    /// The entry in a row of [`selecting`].
    fn read(row: &SqliteRow) -> Result<Self, DatabaseError> {
        Ok(Self {
            stored: rows::stored(row, 0)?,
            pushed_by: row.try_get::<Option<Uuid>, _>("pushed_by")?.map(DeviceId),
            arrived: row.try_get::<Option<i64>, _>("arrived")?.map(ms),
        })
    }

    /// As [`Self::read`]; `None` if it cannot be read or is another one than was stored.
    fn intact(row: &SqliteRow) -> Option<Self> {
        let whole = Self::read(row).ok()?;
        let stored: &[u8] = row.try_get("sha256").ok()?;
        (stored == digest(&whole.stored, whole.pushed_by, whole.arrived)).then_some(whole)
    }
}

/// The SHA-256 of all that is stored of an entry. What is hashed in which order never changes: digests that an earlier
/// version has stored are compared with it.
fn digest(stored: &StoredEntry, pushed_by: Option<DeviceId>, arrived: Option<UnixMs>) -> [u8; 32] {
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
    // Where these are missing, nothing stands for them: so the digests of earlier versions still hold.
    if let Some(device) = pushed_by {
        hasher.update([1_u8]);
        hasher.update(device.0.as_bytes());
    }
    if let Some(arrived) = arrived {
        hasher.update([2_u8]);
        hasher.update(arrived.0.to_be_bytes());
    }
    hasher.finalize().into()
}

/// The digest of an entry that is stored for the first time.
pub(super) fn of_new(stored: &StoredEntry, pushed_by: PushedBy) -> [u8; 32] {
    digest(stored, pushed_by.device, Some(pushed_by.at))
}

/// The query for entries with all that their digests cover, and the digests. A condition can follow.
pub(super) fn selecting() -> String {
    format!("SELECT {COLUMNS}, {PUSHED}, e.sha256 FROM entries e")
}

/// The entry in a row of [`selecting`]; `None` if it cannot be read or is another one than was stored.
pub(super) fn intact(row: &SqliteRow) -> Option<StoredEntry> {
    WholeEntry::intact(row).map(|whole| whole.stored)
}

/// The digest of a stored entry after this change; `None` if the entry is not as it was stored. Its digest then has to stay
/// as it is, so that the check still reports it.
pub(super) async fn changed(
    tx: &mut Transaction<'static, Sqlite>,
    seq: u64,
    change: impl FnOnce(&mut StoredEntry),
) -> Result<Option<Vec<u8>>, DatabaseError> {
    let sql = format!("{} WHERE e.seq = $1", selecting());
    let found = sqlx::query(AssertSqlSafe(sql))
        .bind(to_i64(seq))
        .fetch_optional(&mut **tx)
        .await?;
    let whole = found.as_ref().and_then(WholeEntry::intact);
    Ok(whole.map(|mut whole| {
        change(&mut whole.stored);
        digest(&whole.stored, whole.pushed_by, whole.arrived).to_vec()
    }))
}

/// Gives the entries of earlier versions their digests. One that cannot be read gets none, which the check reports.
pub(super) async fn seal_former(writer: &SqlitePool) -> Result<(), DatabaseError> {
    let lacking = "SELECT seq FROM entries WHERE sha256 IS NULL LIMIT 1";
    if sqlx::query(lacking).fetch_optional(writer).await?.is_none() {
        return Ok(());
    }
    let sql = format!(
        "{} WHERE e.sha256 IS NULL AND e.seq > $1 ORDER BY e.seq LIMIT {SOME}",
        selecting()
    );
    let mut last = Some(0);
    while let Some(after) = last {
        let mut tx = writer.begin_with("BEGIN IMMEDIATE").await?;
        let found = sqlx::query(AssertSqlSafe(sql.clone()))
            .bind(after)
            .fetch_all(&mut *tx)
            .await?;
        for whole in found.iter().filter_map(|row| WholeEntry::read(row).ok()) {
            put(&mut tx, &whole).await?;
        }
        tx.commit().await?;
        last = found.last().map(|row| row.try_get::<i64, _>(0)).transpose()?;
    }
    Ok(())
}

async fn put(tx: &mut Transaction<'static, Sqlite>, whole: &WholeEntry) -> Result<(), DatabaseError> {
    let digest = digest(&whole.stored, whole.pushed_by, whole.arrived);
    sqlx::query("UPDATE entries SET sha256 = $2 WHERE seq = $1")
        .bind(to_i64(whole.stored.seq))
        .bind(digest.to_vec())
        .execute(&mut **tx)
        .await?;
    Ok(())
}

#[cfg(test)]
pub(super) mod tests {
    use shared::log::entry::Stamp;
    use shared::log::{Entry, EntryId, MadeAt, PersonId, ReceivedEntry, Subject, SubjectId, SubjectKind};

    use super::*;

    pub(in crate::store::sqlite) fn sample() -> StoredEntry {
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
            hex::encode(digest(&sample(), None, None)),
            "86cb147e4af82e7e57025f145f92c8b41756fe0e4ba682f533d0be8fc58c1459"
        );
        let pushed_by = PushedBy {
            device: Some(DeviceId(Uuid::from_u128(16))),
            at: UnixMs(17),
        };
        assert_eq!(
            hex::encode(of_new(&sample(), pushed_by)),
            "c0ffed7edfce7ba6468fcbe6307cce8d4b89ceaef4718673f4d3f3a23320f7e7"
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
        let mut seen = std::collections::BTreeSet::from([digest(&sample(), None, None)]);
        for change in changes {
            let mut other = sample();
            change(&mut other);
            assert!(seen.insert(digest(&other, None, None)), "{other:?}");
        }
        let [one, two] = [1, 2].map(|number| Some(DeviceId(Uuid::from_u128(number))));
        for pushed_by in [None, one, two] {
            for arrived in [None, Some(UnixMs(0)), Some(UnixMs(1))] {
                let is_seen = (pushed_by, arrived) == (None, None);
                assert_ne!(seen.insert(digest(&sample(), pushed_by, arrived)), is_seen);
            }
        }
    }
}
