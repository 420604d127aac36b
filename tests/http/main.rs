//! Tests of the whole server over HTTP: the real binary on a free port, with a new data folder for each test.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod bad_input;
mod blanks;
mod calc;
mod cards;
mod connections;
mod crash;
mod disk_full;
mod erasure;
mod interrupted;
mod joining;
mod landed;
mod limits;
mod memory;
mod openapi;
mod plan;
mod private;
mod questions;
mod restoring;
mod sharing;

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
