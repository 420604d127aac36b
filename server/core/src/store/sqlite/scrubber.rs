//! Empties the write-ahead log, which keeps the former content of pages that have changed.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use sqlx::SqlitePool;
use sqlx::sqlite::{SqliteConnectOptions, SqlitePoolOptions};

use crate::store::DatabaseError;

/// How long an attempt waits for those who still read what is in the log. Writers wait meanwhile.
const BUSY: Duration = Duration::from_millis(100);
/// How long after that it is tried again.
const AGAIN: Duration = Duration::from_secs(1);

/// Empties the log, on a connection of its own. Clones share it.
#[derive(Debug, Clone)]
pub(super) struct Scrubber {
    connection: SqlitePool,
    /// Whether it is being tried again and again.
    tries: Arc<AtomicBool>,
}

impl Scrubber {
    pub(super) async fn new(
        pool: SqlitePoolOptions,
        options: SqliteConnectOptions,
    ) -> Result<Self, DatabaseError> {
        Ok(Self {
            connection: pool.connect_with(options.busy_timeout(BUSY)).await?,
            tries: Arc::default(),
        })
    }

    pub(super) async fn close(&self) {
        self.connection.close().await;
    }

    /// Empties the log; if somebody still reads what is in it, as a backup does, as soon as that has ended. What is left
    /// when the process ends is emptied at the next start, when all erasures are applied again.
    pub(super) async fn empty_log(&self) -> Result<(), DatabaseError> {
        if !self.empties().await? && !self.tries.swap(true, Ordering::SeqCst) {
            tokio::spawn(self.clone().empty_later());
        }
        Ok(())
    }

    /// Whether the log could be emptied now.
    async fn empties(&self) -> Result<bool, sqlx::Error> {
        // The first of three columns: <https://sqlite.org/pragma.html#pragma_wal_checkpoint>.
        let blocked: i64 = sqlx::query_scalar("PRAGMA wal_checkpoint(TRUNCATE)")
            .fetch_one(&self.connection)
            .await?;
        Ok(blocked == 0)
    }

    /// Tries until the log could be emptied, or the store is closed.
    async fn empty_later(self) {
        loop {
            tokio::time::sleep(AGAIN).await;
            // It is taken back before the attempt: what is to be emptied from then on is another attempt's.
            self.tries.store(false, Ordering::SeqCst);
            let blocked = matches!(self.empties().await, Ok(false));
            if !blocked || self.tries.swap(true, Ordering::SeqCst) {
                return;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::time::Duration;

    use uuid::Uuid;

    use crate::store::sqlite::SqliteStore;
    use crate::store::{LogTx, Store, StoreTx, TxMode};

    #[tokio::test]
    async fn the_log_is_emptied_once_its_last_reader_has_gone() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("waxend.db");
        let store = SqliteStore::open(&file, Uuid::from_u128(1), Uuid::from_u128(2))
            .await
            .unwrap();
        let log = || fs::metadata(folder.path().join("waxend.db-wal")).unwrap().len();
        let mut reader = store.begin(TxMode::Read).await.unwrap();
        let mut counter = reader.counter().await.unwrap();
        counter.letters_given += 1;
        let mut tx = store.begin(TxMode::Write).await.unwrap();
        tx.set_counter(&counter).await.unwrap();
        tx.commit().await.unwrap();
        for _ in 0..2 {
            store.scrub().await.unwrap();
            assert!(log() > 0, "the reader still needs it");
        }
        drop(reader);
        let emptied = async {
            while log() > 0 {
                tokio::task::yield_now().await;
            }
        };
        tokio::time::timeout(Duration::from_secs(20), emptied)
            .await
            .unwrap();
        store.close().await;
    }
}
