//! Tests of the whole server over HTTP: the real binary on a free port, with a new data folder for each test.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod bad_input;
mod blanks;
mod bodies;
mod calc;
mod calendar;
mod card_drawing;
mod cards;
mod certificate;
mod connections;
mod crash;
mod damage;
mod disk_full;
mod erasure;
mod exif;
mod in_shop;
mod interrupted;
mod joining;
mod kept_aside;
mod landed;
mod left;
mod limits;
mod memory;
mod mentions;
mod openapi;
mod plain_http;
mod plan;
mod private;
mod questions;
mod quota;
mod read_only;
mod refusals;
mod restoring;
mod roles;
mod roles_push;
mod security_headers;
mod sharing;
mod shut_out;

use std::path::Path;

use server::data::DataFolder;
use server_core::store::{MemberTx, Store, StoreTx, TokenRow, TxMode};
use shared::log::{DeviceId, UnixMs};
use support::running::{Client, Server};

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

/// A code of the command line with which a helper's device joins.
fn helper_code(server: &Server) -> String {
    let out = server.run(&["join", "--role", "helper"]);
    let said = String::from_utf8_lossy(&out.stdout);
    let code = said.lines().find_map(|line| line.strip_prefix("Join code: "));
    code.unwrap_or_else(|| panic!("{out:?}")).to_owned()
}

/// Joins a helper's device. A repairer's has to have joined before.
fn helper(server: &Server, device: DeviceId) -> Client {
    server.join_with(&helper_code(server), device)
}

/// Changes the database of a data folder, for what would take a test too long. Returns how many rows were changed.
fn change(data: &Path, sql: &'static str) -> u64 {
    let database = format!("sqlite://{}", data.join("waxend.db").display());
    tokio::runtime::Runtime::new().unwrap().block_on(async {
        let pool = sqlx::SqlitePool::connect(&database).await.unwrap();
        let changed = sqlx::query(sql).execute(&pool).await.unwrap();
        pool.close().await;
        changed.rows_affected()
    })
}

/// Changes every token of a data folder, for what would take a test too long. It is done through the store, which gives each
/// row its digest. Returns how many tokens there are.
fn change_tokens(data: &Path, change: impl Fn(&mut TokenRow)) -> usize {
    tokio::runtime::Runtime::new().unwrap().block_on(async {
        let store = DataFolder::at(data).unwrap().open_store().await.unwrap();
        let mut tx = store.begin(TxMode::Write).await.unwrap();
        let mut changed = 0;
        for device in tx.devices().await.unwrap() {
            for (hash, mut token) in tx.tokens_of(device.id).await.unwrap() {
                change(&mut token);
                tx.put_token(&hash, &token).await.unwrap();
                changed += 1;
            }
        }
        tx.commit().await.unwrap();
        store.close().await;
        changed
    })
}

/// Takes so many milliseconds from the times at which requests last came with tokens.
fn age_tokens(data: &Path, ms: i64) -> usize {
    change_tokens(data, |token| {
        token.seen = token.seen.map(|seen| UnixMs(seen.0 - ms));
    })
}
