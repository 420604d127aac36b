//! The most bytes of a request's body, for each route that takes one. A larger body is refused with
//! [`Error::TooLarge`](server_core::error::Error::TooLarge), and no more of it is kept in memory.
//!
//! | route | limit | the app's largest request |
//! | --- | --- | --- |
//! | `POST /api/v1/join` | [`JOIN`] | a code, a name, two ids: some hundred bytes |
//! | `POST /api/v1/join-codes` | [`SMALL`] | a role: 19 |
//! | `POST /api/v1/entries` | [`ENTRIES`] | a batch of [`BATCH_BYTES`] |
//! | `POST /api/v1/entries/missing` | [`MISSING`] | [`MAX_ASKED`] times an id and a time: 148,010 |
//! | `POST /api/v1/kept-aside` | [`KEPT_ASIDE`] | [`MAX_ASKED`] times an id: 78,020 |
//! | `PUT /api/v1/blobs/{sha256}` | [`BLOB`] | [`MAX_BLOB`](shared::sync::messages::MAX_BLOB) |
//! | `POST /api/v1/blobs/missing` | [`MISSING`] | [`MAX_ASKED`] times a SHA-256: 134,012 |
//! | `POST /api/v1/shut-out` | [`SMALL`] | two ids and two cursors: 358 |
//! | `POST /api/fn/v1/shut-out` | [`SMALL`] | an id: 43 |
//! | every other route | [`SMALL`] | none |
//!
//! `tests/http/bodies.rs` sends the largest requests, and larger ones.

use axum::extract::DefaultBodyLimit;
use shared::sync::messages::{BATCH_BYTES, MAX_ASKED};

/// Joining. Anybody may send this request, so little of it is kept.
pub(super) const JOIN: DefaultBodyLimit = DefaultBodyLimit::max(10_000);
/// Entries: twice what the app sends, for apps that count their bytes differently.
pub(super) const ENTRIES: DefaultBodyLimit = DefaultBodyLimit::max(2 * BATCH_BYTES);
/// Questions for what is missing: more than the bytes of an id or hash, with what stands around it, times the most of
/// them.
pub(super) const MISSING: DefaultBodyLimit = DefaultBodyLimit::max(100 * MAX_ASKED);
/// Decisions about entries that are kept aside: more than the bytes of an id, with what stands around it, times the most
/// of them.
pub(super) const KEPT_ASIDE: DefaultBodyLimit = DefaultBodyLimit::max(50 * MAX_ASKED);
/// No limit here: the body is written to the disk as it comes, and [`server_core::shop::Shop::put_blob`] counts it.
pub(super) const BLOB: DefaultBodyLimit = DefaultBodyLimit::disable();
/// All routes that need only a few bytes, or none.
pub(super) const SMALL: DefaultBodyLimit = DefaultBodyLimit::max(1_000);
