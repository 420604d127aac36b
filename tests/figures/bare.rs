//! Inserts the same rows into the same database without the server, for comparison.

use std::path::Path;
use std::time::{Duration, Instant};

use shared::log::Entry;
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqliteSynchronous};
use sqlx::{Connection, QueryBuilder, SqliteConnection};

/// Inserts id and JSON of these entries in one durable transaction.
pub(crate) fn insert(folder: &Path, entries: &[Entry]) -> Duration {
    let rows: Vec<_> = entries
        .iter()
        .map(|e| (e.id.0, serde_json::to_string(e).unwrap()))
        .collect();
    tokio::runtime::Runtime::new().unwrap().block_on(async {
        let options = SqliteConnectOptions::new()
            .filename(folder.join("bare.db"))
            .create_if_missing(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full);
        let mut connection = SqliteConnection::connect_with(&options).await.unwrap();
        sqlx::query("CREATE TABLE rows (id BLOB PRIMARY KEY, json TEXT)")
            .execute(&mut connection)
            .await
            .unwrap();
        let began = Instant::now();
        let mut tx = connection.begin().await.unwrap();
        for some in rows.chunks(500) {
            let mut query = QueryBuilder::new("INSERT INTO rows (id, json) ");
            query.push_values(some, |mut row, (id, json)| {
                row.push_bind(*id).push_bind(json.clone());
            });
            query.build().execute(&mut *tx).await.unwrap();
        }
        tx.commit().await.unwrap();
        began.elapsed()
    })
}
