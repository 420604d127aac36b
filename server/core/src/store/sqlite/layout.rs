//! Whether the tables, indexes and triggers of the file are those that the migrations make.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use sqlx::sqlite::{SqlitePoolOptions, SqliteRow};
use sqlx::{Row, SqlitePool};

use super::MIGRATIONS;
use crate::store::DatabaseError;

/// Everything in the schema but the table of the migrations, which is not ours.
const SCHEMA: &str =
    "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema WHERE tbl_name <> '_sqlx_migrations'";

/// Type, name, table and SQL of each part of a schema.
type Layout = BTreeSet<[String; 4]>;

/// What is wrong with the file's layout.
pub(super) async fn faults(pool: &SqlitePool) -> Result<Vec<String>, DatabaseError> {
    let found = read(&sqlx::query(SCHEMA).fetch_all(pool).await?)?;
    let strange = found.symmetric_difference(made().await?).count();
    Ok(match strange {
        0 => Vec::new(),
        _ => vec![format!(
            "parts of the layout that are not as they were made: {strange}"
        )],
    })
}

/// The layout of a new database.
async fn made() -> Result<&'static Layout, DatabaseError> {
    static MADE: OnceLock<Layout> = OnceLock::new();
    if let Some(made) = MADE.get() {
        return Ok(made);
    }
    // With one connection, because each has a database of its own in memory.
    let database = SqlitePoolOptions::new()
        .max_connections(1)
        .connect("sqlite::memory:")
        .await?;
    let mut connection = database.acquire().await?;
    // `run` is not `Send` for every executor that the compiler thinks of, and this is awaited within a trait's method.
    let migrated = MIGRATIONS.run_direct(None, &mut *connection, false).await;
    drop(connection);
    migrated.map_err(|error| DatabaseError::Other(Box::new(error)))?;
    let layout = read(&sqlx::query(SCHEMA).fetch_all(&database).await?)?;
    database.close().await;
    Ok(MADE.get_or_init(|| layout))
}

fn read(rows: &[SqliteRow]) -> Result<Layout, DatabaseError> {
    let part = |row: &SqliteRow| -> Result<[String; 4], DatabaseError> {
        Ok([row.try_get(0)?, row.try_get(1)?, row.try_get(2)?, row.try_get(3)?])
    };
    rows.iter().map(part).collect()
}
