//! Tests of the whole server over HTTP: the real binary on a free port, with a new data folder for each test.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod bad_input;
mod blanks;
mod bodies;
mod calc;
mod calendar;
mod cards;
mod certificate;
mod connections;
mod crash;
mod damage;
mod disk_full;
mod erasure;
mod interrupted;
mod joining;
mod landed;
mod limits;
mod memory;
mod openapi;
mod plain_http;
mod plan;
mod private;
mod questions;
mod read_only;
mod restoring;
mod security_headers;
mod sharing;
mod shut_out;

use support::running::Server;

/// The binary under test.
const WAXEND: &str = env!("CARGO_BIN_EXE_waxend");

/// A server on a new data folder. The folder is deleted when the first value is dropped.
fn server() -> (tempfile::TempDir, Server) {
    server_with(&[])
}

fn server_with(flags: &[&str]) -> (tempfile::TempDir, Server) {
    let folder = tempfile::tempdir().unwrap();
    let server = Server::start(WAXEND, &folder.path().join("data"), flags);
    (folder, server)
}

/// Changes the database of a data folder, for what would take a test too long. Returns how many rows were changed.
fn change(data: &std::path::Path, sql: &'static str) -> u64 {
    let database = format!("sqlite://{}", data.join("waxend.db").display());
    tokio::runtime::Runtime::new().unwrap().block_on(async {
        let pool = sqlx::SqlitePool::connect(&database).await.unwrap();
        let changed = sqlx::query(sql).execute(&pool).await.unwrap();
        pool.close().await;
        changed.rows_affected()
    })
}
