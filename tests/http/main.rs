//! The whole server over HTTP: the real binary on a free port, on data folders of its own.

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

/// A server on a fresh data folder, which lives as long as the first of the two.
fn server() -> (tempfile::TempDir, Server) {
    server_with(&[])
}

fn server_with(flags: &[&str]) -> (tempfile::TempDir, Server) {
    let folder = tempfile::tempdir().unwrap();
    let server = Server::start(WAXEND, &folder.path().join("data"), flags);
    (folder, server)
}
