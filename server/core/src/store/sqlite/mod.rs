//! The store on SQLite: one file in WAL mode, and every commit is on the disk before it is answered.

mod aside;
mod blobs;
mod bulk;
mod check;
mod counter;
mod digest;
mod error;
mod layout;
mod log;
mod members;
mod mending;
mod outline;
mod page;
mod repair;
mod rights;
mod row_digest;
mod rows;
mod scrubber;
#[cfg(test)]
mod tests;

use std::path::Path;
use std::time::Duration;

use shared::log::UnixMs;
use sqlx::migrate::Migrator;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{AssertSqlSafe, Connection, Sqlite, SqliteConnection, SqlitePool, Transaction};
use uuid::Uuid;

use super::{DatabaseError, Store, StoreTx, TxMode};
use scrubber::Scrubber;

static MIGRATIONS: Migrator = sqlx::migrate!("../../migrations/sqlite");

/// How long a transaction waits for the lock of another process.
const BUSY: Duration = Duration::from_secs(10);
/// Connections for reading, besides the one for writing.
const READERS: u32 = 4;
/// How many rows a connection reads ahead of their reader, which are in memory meanwhile: of entries as large as they may
/// be, 2 MB.
const ROWS_AHEAD: usize = 8;

/// A database in one SQLite file. Clones share its connections.
#[derive(Debug, Clone)]
pub struct SqliteStore {
    // One connection, so that writers queue here and do not get `SQLITE_BUSY` from SQLite.
    writer: SqlitePool,
    readers: SqlitePool,
    scrubber: Scrubber,
}

/// A transaction on the file.
#[derive(Debug)]
pub struct SqliteTx {
    tx: Transaction<'static, Sqlite>,
}

impl SqliteStore {
    /// Opens the file, creating it if it is not there, runs the migrations that it lacks, and gives a digest to what an
    /// earlier version has stored without.
    ///
    /// `shop` and `epoch` are the ids of a new shop; an existing one keeps its own.
    ///
    /// # Errors
    /// [`DatabaseError`] if the file cannot be opened or is not a database of this program.
    pub async fn open(file: &Path, shop: Uuid, epoch: Uuid) -> Result<Self, DatabaseError> {
        let options = SqliteConnectOptions::new()
            .filename(file)
            .create_if_missing(true)
            .foreign_keys(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full)
            // Freed space is overwritten, so that erased content does not stay in unused parts of the file.
            .pragma("secure_delete", "ON")
            .row_buffer_size(ROWS_AHEAD)
            .busy_timeout(BUSY);
        let writer = pool(1, BUSY * 3).connect_with(options.clone()).await?;
        MIGRATIONS
            .run(&writer)
            .await
            .map_err(|e| DatabaseError::Other(Box::new(e)))?;
        counter::create(&writer, shop, epoch).await?;
        digest::seal_former(&writer).await?;
        row_digest::seal_former(&writer).await?;
        let options = options.create_if_missing(false);
        let readers = pool(READERS, BUSY).connect_with(options.clone()).await?;
        Ok(Self {
            writer,
            readers,
            scrubber: Scrubber::new(pool(1, BUSY), options).await?,
        })
    }

    /// Writes a consistent copy of the database to a new or empty file. Other transactions can read and write meanwhile.
    ///
    /// # Errors
    /// [`DatabaseError::Full`], or [`DatabaseError::Other`] if the file exists and is not empty.
    pub async fn copy_to(&self, file: &Path) -> Result<(), DatabaseError> {
        let name = file
            .to_str()
            .ok_or(DatabaseError::Damaged("the file name is not Unicode"))?;
        sqlx::query("VACUUM INTO $1")
            .bind(name)
            .execute(&self.readers)
            .await?;
        Ok(())
    }

    /// Closes every connection, which moves the write-ahead log into the file.
    pub async fn close(&self) {
        self.scrubber.close().await;
        self.readers.close().await;
        self.writer.close().await;
    }
}

/// A pool that keeps its connections open. Reopening the last one would need room on a disk that may be full.
fn pool(connections: u32, wait: Duration) -> SqlitePoolOptions {
    SqlitePoolOptions::new()
        .max_connections(connections)
        .acquire_timeout(wait)
        .idle_timeout(None)
        .max_lifetime(None)
        .after_release(|connection, _| Box::pin(is_at_rest(connection)))
}

/// Whether a connection can be used again. On a full or failing disk SQLite rolls a transaction back by itself
/// (<https://sqlite.org/lang_transaction.html>, section 3). The driver's own rollback then fails, and the driver keeps
/// counting a transaction that no longer exists, so that every later one on the connection is refused. Such a
/// connection is closed.
async fn is_at_rest(connection: &mut SqliteConnection) -> Result<bool, sqlx::Error> {
    // This is answered after the rollback that dropping a transaction has requested.
    connection.ping().await?;
    Ok(!connection.is_in_transaction())
}

impl Store for SqliteStore {
    type Tx = SqliteTx;

    async fn begin(&self, mode: TxMode) -> Result<SqliteTx, DatabaseError> {
        let tx = match mode {
            TxMode::Read => self.readers.begin().await?,
            // This takes the write lock at once. A transaction that has read before it first writes would fail instead
            // of waiting.
            TxMode::Write => self.writer.begin_with("BEGIN IMMEDIATE").await?,
        };
        Ok(SqliteTx { tx })
    }

    async fn scrub(&self) -> Result<(), DatabaseError> {
        // The write-ahead log still has the former content of the pages.
        self.scrubber.empty_log().await
    }

    async fn try_write(&self) -> Result<(), DatabaseError> {
        let mut tx = self.begin(TxMode::Write).await?.tx;
        // `user_version` is a number in the file's header that neither this program nor SQLite uses. It has to change,
        // because writing the same number writes nothing.
        let former: i32 = sqlx::query_scalar("PRAGMA user_version")
            .fetch_one(&mut *tx)
            .await?;
        let next = AssertSqlSafe(format!("PRAGMA user_version = {}", former.wrapping_add(1)));
        sqlx::query(next).execute(&mut *tx).await?;
        tx.commit().await?;
        Ok(())
    }

    async fn faults(&self) -> Result<Vec<String>, DatabaseError> {
        check::faults(&self.readers).await
    }
}

impl StoreTx for SqliteTx {
    async fn commit(self) -> Result<(), DatabaseError> {
        self.tx.commit().await?;
        Ok(())
    }
}

/// A time as SQLite stores it.
fn ms(value: i64) -> UnixMs {
    UnixMs(value)
}

/// A number as SQLite stores it. Numbers start at 1 and do not reach 2^63.
fn to_i64(value: u64) -> i64 {
    i64::try_from(value).unwrap_or(i64::MAX)
}

/// A number that SQLite has stored.
fn to_u64(value: i64) -> Result<u64, DatabaseError> {
    u64::try_from(value).map_err(|_| DatabaseError::Damaged("a number below zero"))
}
