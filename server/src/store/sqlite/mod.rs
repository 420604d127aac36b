//! The store on SQLite: one file, WAL, every commit on disk before it is answered.

mod blobs;
mod bulk;
mod error;
mod log;
mod members;
mod page;
mod rows;

use std::path::Path;
use std::time::Duration;

use shared::log::UnixMs;
use sqlx::migrate::Migrator;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use sqlx::{AssertSqlSafe, Connection, Sqlite, SqliteConnection, SqlitePool, Transaction};
use uuid::Uuid;

use super::{DatabaseError, Store, StoreTx, TxMode};

static MIGRATIONS: Migrator = sqlx::migrate!("../migrations/sqlite");

/// How long a transaction waits for another process to let go of the file.
const BUSY: Duration = Duration::from_secs(10);
/// Readers beside the one writer.
const READERS: u32 = 4;

/// A database file.
#[derive(Debug, Clone)]
pub struct SqliteStore {
    // One connection: writers queue here instead of meeting SQLITE_BUSY inside SQLite.
    writer: SqlitePool,
    readers: SqlitePool,
}

/// A transaction on the file.
#[derive(Debug)]
pub struct SqliteTx {
    tx: Transaction<'static, Sqlite>,
}

impl SqliteStore {
    /// Opens the file, making it if it is not there, and brings its tables up to date.
    ///
    /// `shop` and `epoch` name a new shop; an existing one keeps its own.
    ///
    /// # Errors
    /// [`DatabaseError`] if the file cannot be opened or is not ours.
    pub async fn open(file: &Path, shop: Uuid, epoch: Uuid) -> Result<Self, DatabaseError> {
        let options = SqliteConnectOptions::new()
            .filename(file)
            .create_if_missing(true)
            .foreign_keys(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full)
            // Freed space is overwritten, so that what was erased is not left between the rows.
            .pragma("secure_delete", "ON")
            .busy_timeout(BUSY);
        let writer = pool(1, BUSY * 3).connect_with(options.clone()).await?;
        MIGRATIONS
            .run(&writer)
            .await
            .map_err(|e| DatabaseError::Other(Box::new(e)))?;
        sqlx::query(
            "INSERT INTO counter (one, shop, epoch, seq, last_received, letters_given) \
             VALUES (1, $1, $2, 0, 0, 0) ON CONFLICT DO NOTHING",
        )
        .bind(shop)
        .bind(epoch)
        .execute(&writer)
        .await?;
        let readers = pool(READERS, BUSY)
            .connect_with(options.create_if_missing(false))
            .await?;
        Ok(Self { writer, readers })
    }

    /// Writes one consistent copy of the database to a new file, while others read and write.
    ///
    /// # Errors
    /// [`DatabaseError::Full`], or [`DatabaseError::Other`] if the file exists.
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

    /// Closes every connection, folding the write-ahead log into the file.
    pub async fn close(&self) {
        self.readers.close().await;
        self.writer.close().await;
    }
}

/// A pool whose connections stay open: reopening the last one needs room on the disk, and there may be none.
fn pool(connections: u32, wait: Duration) -> SqlitePoolOptions {
    SqlitePoolOptions::new()
        .max_connections(connections)
        .acquire_timeout(wait)
        .idle_timeout(None)
        .max_lifetime(None)
        .after_release(|connection, _| Box::pin(is_at_rest(connection)))
}

/// Whether a connection may serve again. On a full disk or a failing one SQLite rolls back by itself
/// (<https://sqlite.org/lang_transaction.html>, section 3), the driver's own rollback then fails, and the driver goes
/// on counting a transaction that is no more: every later one would be refused. Such a connection is closed.
async fn is_at_rest(connection: &mut SqliteConnection) -> Result<bool, sqlx::Error> {
    // Answered after the rollback that dropping a transaction has asked for.
    connection.ping().await?;
    Ok(!connection.is_in_transaction())
}

impl Store for SqliteStore {
    type Tx = SqliteTx;

    async fn begin(&self, mode: TxMode) -> Result<SqliteTx, DatabaseError> {
        let tx = match mode {
            TxMode::Read => self.readers.begin().await?,
            // Taking the write lock at once: a reader turned writer would fail instead of waiting.
            TxMode::Write => self.writer.begin_with("BEGIN IMMEDIATE").await?,
        };
        Ok(SqliteTx { tx })
    }

    async fn scrub(&self) -> Result<(), DatabaseError> {
        // The write-ahead log still holds the pages as they were.
        sqlx::query("PRAGMA wal_checkpoint(TRUNCATE)")
            .execute(&self.writer)
            .await?;
        Ok(())
    }

    async fn try_write(&self) -> Result<(), DatabaseError> {
        let mut tx = self.begin(TxMode::Write).await?.tx;
        // A number in the file's header that means nothing to us or to SQLite. The same number again would write nothing.
        let former: i32 = sqlx::query_scalar("PRAGMA user_version")
            .fetch_one(&mut *tx)
            .await?;
        let next = AssertSqlSafe(format!("PRAGMA user_version = {}", former.wrapping_add(1)));
        sqlx::query(next).execute(&mut *tx).await?;
        tx.commit().await?;
        Ok(())
    }
}

impl StoreTx for SqliteTx {
    async fn commit(self) -> Result<(), DatabaseError> {
        self.tx.commit().await?;
        Ok(())
    }
}

/// A time as SQLite keeps it.
fn ms(value: i64) -> UnixMs {
    UnixMs(value)
}

/// A number as SQLite keeps it. Numbers start at 1 and will not reach 2^63.
fn to_i64(value: u64) -> i64 {
    i64::try_from(value).unwrap_or(i64::MAX)
}

/// A number that SQLite kept.
fn to_u64(value: i64) -> Result<u64, DatabaseError> {
    u64::try_from(value).map_err(|_| DatabaseError::Damaged("a number below zero"))
}
