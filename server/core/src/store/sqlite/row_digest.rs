//! The digest that is stored with each row of which nothing else says what it must be (`0007_row_digests.sql`), so that
//! `waxend check` notices any change that this program did not make. For entries, see `digest`.
//!
//! What is not noticed: a row that is gone as a whole, unless it is of the feed or the counter, and a row that is as it was
//! earlier, because the disk has lost a write. Nor does the server compare the counter and the rows of the feed when it
//! uses them, only when it changes them: then a damaged one gets no new digest, so that the check still reports it. A damaged
//! row of any other table counts for nothing.

use futures_util::TryStreamExt;
use sha2::{Digest as _, Sha256};
use shared::log::UnixMs;
use sqlx::encode::IsNull;
use sqlx::error::BoxDynError;
use sqlx::query_builder::Separated;
use sqlx::sqlite::{SqliteArgumentsBuffer, SqliteRow, SqliteTypeInfo};
use sqlx::{
    AssertSqlSafe, Encode, QueryBuilder, Row, Sqlite, SqliteConnection, SqlitePool, Transaction, Type,
    TypeInfo, ValueRef,
};
use uuid::Uuid;

use super::SqliteTx;
use crate::store::DatabaseError;

/// A table of which each row has a digest, in the column `digest`.
pub(super) struct DigestedTable {
    pub(super) name: &'static str,
    /// All other columns, the key first, in the order in which they are hashed. It never changes, because digests that an
    /// earlier version has stored are compared with it. A column that comes later is null at first, and is added at the end.
    pub(super) columns: &'static str,
}

pub(super) const COUNTER: DigestedTable = DigestedTable {
    name: "counter",
    columns: "one, shop, epoch, seq, last_received, letters_given",
};
pub(super) const DEVICES: DigestedTable = DigestedTable {
    name: "devices",
    columns: "id, name, letters, joined, revoked, seen, seq, app, role",
};
pub(super) const TOKENS: DigestedTable = DigestedTable {
    name: "tokens",
    columns: "hash, device, given, seen, revoked",
};
pub(super) const JOIN_CODES: DigestedTable = DigestedTable {
    name: "join_codes",
    columns: "hash, expires, used, used_by, minted_by, role",
};
pub(super) const KEPT_ASIDE: DigestedTable = DigestedTable {
    name: "kept_aside",
    columns: "seq, id, subject_id, device, arrived, bytes, entry",
};
pub(super) const FEED: DigestedTable = DigestedTable {
    name: "feed",
    columns: "seq, mark, entry",
};

pub(super) static TABLES: [DigestedTable; 6] = [COUNTER, DEVICES, TOKENS, JOIN_CODES, KEPT_ASIDE, FEED];

/// Rows of an earlier version that are read at a time.
const SOME: i64 = 1_000;

/// The value of a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ColumnValue<'a> {
    Null,
    Integer(i64),
    Text(&'a str),
    Blob(&'a [u8]),
}

impl<'a> ColumnValue<'a> {
    /// The value of a column that was read; `None` if no row of this program has such a value.
    pub(super) fn read(row: &'a SqliteRow, at: usize) -> Option<Self> {
        let raw = row.try_get_raw(at).ok()?;
        if raw.is_null() {
            return Some(Self::Null);
        }
        match raw.type_info().name() {
            "INTEGER" => row.try_get(at).ok().map(Self::Integer),
            "TEXT" => row.try_get(at).ok().map(Self::Text),
            "BLOB" => row.try_get(at).ok().map(Self::Blob),
            _ => None,
        }
    }

    /// Each kind of value has a number of its own, and what can be of any length has its length before it. So no two rows
    /// are hashed alike.
    fn add_to(self, hasher: &mut Sha256) {
        match self {
            Self::Null => hasher.update([0_u8]),
            Self::Integer(number) => {
                hasher.update([1_u8]);
                hasher.update(number.to_be_bytes());
            }
            Self::Text(text) => {
                hasher.update([2_u8]);
                add_bytes(hasher, text.as_bytes());
            }
            Self::Blob(bytes) => {
                hasher.update([3_u8]);
                add_bytes(hasher, bytes);
            }
        }
    }
}

fn add_bytes(hasher: &mut Sha256, bytes: &[u8]) {
    hasher.update((bytes.len() as u64).to_be_bytes());
    hasher.update(bytes);
}

impl From<i64> for ColumnValue<'_> {
    fn from(number: i64) -> Self {
        Self::Integer(number)
    }
}

impl From<UnixMs> for ColumnValue<'_> {
    fn from(time: UnixMs) -> Self {
        Self::Integer(time.0)
    }
}

impl<'a> From<&'a str> for ColumnValue<'a> {
    fn from(text: &'a str) -> Self {
        Self::Text(text)
    }
}

impl<'a> From<&'a [u8]> for ColumnValue<'a> {
    fn from(bytes: &'a [u8]) -> Self {
        Self::Blob(bytes)
    }
}

impl<'a> From<&'a Uuid> for ColumnValue<'a> {
    fn from(id: &'a Uuid) -> Self {
        Self::Blob(id.as_bytes())
    }
}

impl<'a, T: Into<ColumnValue<'a>>> From<Option<T>> for ColumnValue<'a> {
    fn from(value: Option<T>) -> Self {
        value.map_or(Self::Null, Into::into)
    }
}

impl Type<Sqlite> for ColumnValue<'_> {
    /// Has to be there, but is not asked for: in SQLite, each value has its own type.
    fn type_info() -> SqliteTypeInfo {
        <i64 as Type<Sqlite>>::type_info()
    }
}

impl<'q> Encode<'q, Sqlite> for ColumnValue<'_> {
    fn encode_by_ref(&self, buffer: &mut SqliteArgumentsBuffer) -> Result<IsNull, BoxDynError> {
        match self {
            Self::Null => Ok(IsNull::Yes),
            Self::Integer(number) => <i64 as Encode<'q, Sqlite>>::encode_by_ref(number, buffer),
            Self::Text(text) => <&str as Encode<'q, Sqlite>>::encode_by_ref(text, buffer),
            Self::Blob(bytes) => <&[u8] as Encode<'q, Sqlite>>::encode_by_ref(bytes, buffer),
        }
    }
}

impl DigestedTable {
    /// The query for all columns and the digest. A condition can follow.
    pub(super) fn select(&self) -> String {
        format!("SELECT {}, digest FROM {}", self.columns, self.name)
    }

    fn columns(&self) -> impl Iterator<Item = &'static str> {
        self.columns.split(", ")
    }

    /// The name of the column that is the key.
    pub(super) fn key(&self) -> &'static str {
        self.columns().next().unwrap_or_default()
    }

    /// The SHA-256 of a row: of the table's name and of the values of all columns, in their order. Nulls at the end are left
    /// out, so that a row of before there was the last column keeps its digest.
    pub(super) fn digest(&self, values: &[ColumnValue<'_>]) -> [u8; 32] {
        let last = values.iter().rposition(|value| *value != ColumnValue::Null);
        let mut hasher = Sha256::new();
        add_bytes(&mut hasher, self.name.as_bytes());
        for value in values.iter().take(last.map_or(0, |last| last + 1)) {
            value.add_to(&mut hasher);
        }
        hasher.finalize().into()
    }

    /// The values of a row of [`Self::select`]; `None` if one cannot be read.
    fn values<'a>(&self, row: &'a SqliteRow) -> Option<Vec<ColumnValue<'a>>> {
        let columns = self.columns().enumerate();
        columns.map(|(at, _)| ColumnValue::read(row, at)).collect()
    }

    /// The values of a row of [`Self::select`]; `None` if it is not as it was stored.
    pub(super) fn intact<'a>(&self, row: &'a SqliteRow) -> Option<Vec<ColumnValue<'a>>> {
        let values = self.values(row)?;
        let stored: &[u8] = row.try_get("digest").ok()?;
        (stored == self.digest(&values)).then_some(values)
    }

    /// Whether a row of [`Self::select`] is as it was stored.
    pub(super) fn is_intact(&self, row: &SqliteRow) -> bool {
        self.intact(row).is_some()
    }

    /// Adds the values of a row and its digest to an insert.
    pub(super) fn push(&self, mut row: Separated<'_, Sqlite, &'static str>, values: &[ColumnValue<'_>]) {
        for value in values {
            row.push_bind(*value);
        }
        row.push_bind(self.digest(values).to_vec());
    }

    /// How many rows are damaged. A counter that is missing is a damaged one.
    pub(super) async fn damaged(&self, connection: &mut SqliteConnection) -> Result<u64, DatabaseError> {
        let (mut all, mut intact) = (0_u64, 0);
        let mut rows = sqlx::query(AssertSqlSafe(self.select())).fetch(connection);
        while let Some(row) = rows.try_next().await? {
            all += 1;
            intact += u64::from(self.is_intact(&row));
        }
        let least = u64::from(self.name == COUNTER.name);
        Ok(all.max(least) - intact)
    }

    /// Gives those rows their digests that have none. One that cannot be read gets none, so that the check reports it.
    async fn seal(&self, tx: &mut Transaction<'static, Sqlite>) -> Result<(), DatabaseError> {
        let (select, key) = (self.select(), self.key());
        let lacking = format!("{select} WHERE digest IS NULL AND {key} > $1 ORDER BY {key} LIMIT {SOME}");
        let seal = format!("UPDATE {} SET digest = $2 WHERE {key} = $1", self.name);
        let mut last: Vec<SqliteRow> = Vec::new();
        loop {
            // Every other key, also a blob, comes after the least number.
            let after = last.last().and_then(|row| ColumnValue::read(row, 0));
            let query = sqlx::query(AssertSqlSafe(lacking.clone()));
            let query = query.bind(after.unwrap_or(ColumnValue::Integer(i64::MIN)));
            let found = query.fetch_all(&mut **tx).await?;
            if found.is_empty() {
                return Ok(());
            }
            for row in &found {
                let Some(values) = self.values(row) else {
                    continue;
                };
                let query = sqlx::query(AssertSqlSafe(seal.clone())).bind(values[0]);
                let query = query.bind(self.digest(&values).to_vec());
                query.execute(&mut **tx).await?;
            }
            last = found;
        }
    }
}

/// Gives the rows of earlier versions their digests, in one transaction. Once the counter has one, that is done, and a row
/// without one is damaged.
pub(super) async fn seal_former(writer: &SqlitePool) -> Result<(), DatabaseError> {
    let lacking = "SELECT one FROM counter WHERE digest IS NULL";
    if sqlx::query(lacking).fetch_optional(writer).await?.is_none() {
        return Ok(());
    }
    let mut tx = writer.begin_with("BEGIN IMMEDIATE").await?;
    for table in &TABLES {
        table.seal(&mut tx).await?;
    }
    Ok(tx.commit().await?)
}

/// What is not as it was stored, one sentence for each table.
pub(super) async fn faults(pool: &SqlitePool) -> Result<Vec<String>, DatabaseError> {
    let mut connection = pool.acquire().await?;
    let mut faults = Vec::new();
    for table in &TABLES {
        let rows = table.damaged(&mut connection).await?;
        if rows > 0 {
            let name = table.name;
            faults.push(format!("rows of {name} that are not as they were stored: {rows}"));
        }
    }
    Ok(faults)
}

impl SqliteTx {
    /// Adds a row with its digest, or replaces all of the one with the same key.
    pub(super) async fn put_row(
        &mut self,
        table: &DigestedTable,
        values: &[ColumnValue<'_>],
    ) -> Result<(), DatabaseError> {
        let DigestedTable { name, columns } = table;
        let replaced: Vec<String> = table
            .columns()
            .skip(1)
            .chain(["digest"])
            .map(|column| format!("{column} = excluded.{column}"))
            .collect();
        let mut query = QueryBuilder::new(format!("INSERT INTO {name} ({columns}, digest) "));
        query.push_values([values], |row, values| table.push(row, values));
        query.push(format_args!(
            " ON CONFLICT ({}) DO UPDATE SET {}",
            table.key(),
            replaced.join(", ")
        ));
        query.build().execute(&mut *self.tx).await?;
        Ok(())
    }

    /// The rows that meet a condition, without those that are not as they were stored: what they say cannot be trusted.
    pub(super) async fn intact_rows(
        &mut self,
        table: &DigestedTable,
        condition: &str,
        values: &[ColumnValue<'_>],
    ) -> Result<Vec<SqliteRow>, DatabaseError> {
        let sql = AssertSqlSafe(format!("{} {condition}", table.select()));
        let query = values
            .iter()
            .fold(sqlx::query(sql), |query, value| query.bind(*value));
        let mut rows = query.fetch_all(&mut *self.tx).await?;
        rows.retain(|row| table.is_intact(row));
        Ok(rows)
    }

    /// The rows that are not as they were stored.
    pub(super) async fn damaged_rows(
        &mut self,
        table: &DigestedTable,
    ) -> Result<Vec<SqliteRow>, DatabaseError> {
        let mut damaged = Vec::new();
        let mut rows = sqlx::query(AssertSqlSafe(table.select())).fetch(&mut *self.tx);
        while let Some(row) = rows.try_next().await? {
            if !table.is_intact(&row) {
                damaged.push(row);
            }
        }
        drop(rows);
        Ok(damaged)
    }
}
