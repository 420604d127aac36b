//! `/api/v1/entries`: pushes and pulls entries, and says which ones the server lacks.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::extract::State;
use axum::routing::{get, post};
use axum::{Json, Router};
use serde::Deserialize;
use shared::log::{Body, DeviceId, ReceivedEntry, is_erasure};
use shared::sync::messages::{MissingEntries, MissingEntriesAnswer, PullAnswer, PushAnswer, PushOutcome};
use shared::sync::{Code, Cursor, Problem, version};
use tracing::{info, warn};
use uuid::Uuid;

use super::body::{JsonBody, JsonText, QueryString};
use super::error::Refused;
use super::room::PushRoom;
use super::{AppState, body_limit};
use crate::auth::Joined;
use server_core::error::Error;
use server_core::shop::read_push;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new()
        .route("/entries", get(pull).post(push).layer(body_limit::ENTRIES))
        .route("/entries/missing", post(missing).layer(body_limit::MISSING))
}

async fn push(
    State(app): State<Arc<AppState>>,
    Joined(member): Joined,
    _room: PushRoom,
    JsonText(body): JsonText,
) -> Result<Json<PushAnswer>, Refused> {
    let batch = read_push(&body)?;
    drop(body);
    let erases = |held: &ReceivedEntry| is_erasure(&held.entry.kind);
    let only_erases = batch.entries.iter().flatten().all(erases);
    app.quota.admit_entries(&app.shop, only_erases).await?;
    let kinds: Vec<&'static str> = batch.entries.iter().map(kind_of).collect();
    let answer = app.shop.push(&member, batch).await?;
    note_for_repairer(&app, member.device, &kinds, &answer.results);
    let refused = answer
        .results
        .iter()
        .filter(|taken| matches!(taken, PushOutcome::Refused(_)))
        .count();
    info!(device = %member.device, entries = answer.results.len(), refused, "entries pushed");
    Ok(Json(answer))
}

/// The kind of a pushed entry, for the log. One that this version does not know could be any text.
fn kind_of(read: &Result<ReceivedEntry, Problem>) -> &'static str {
    let Ok(held) = read else { return "unreadable" };
    let mut known = Body::KINDS.iter().copied();
    known.find(|kind| *kind == held.entry.kind).unwrap_or("other")
}

/// Logs how many entries of each kind the role of the device does not let it write.
fn note_for_repairer(app: &AppState, device: DeviceId, kinds: &[&'static str], results: &[PushOutcome]) {
    let mut refused: BTreeMap<&'static str, usize> = BTreeMap::new();
    for (kind, result) in kinds.iter().zip(results) {
        if let PushOutcome::Refused(problem) = result
            && matches!(problem.code, Code::KeptForRepairer | Code::DroppedByRepairer)
        {
            *refused.entry(*kind).or_default() += 1;
        }
    }
    if !refused.is_empty() {
        app.refusals.entries(device, &refused);
    }
}

/// A cursor in a query string: all of its fields, or none.
#[derive(Debug, Deserialize)]
pub(super) struct CursorQuery {
    epoch: Option<Uuid>,
    seq: Option<u64>,
    mark: Option<Uuid>,
}

impl CursorQuery {
    /// The cursor, if the query has one.
    pub(super) fn cursor(&self) -> Result<Option<Cursor>, Error> {
        whole(self.epoch, self.seq, self.mark)
    }
}

/// The server's cursor after the device's last push.
#[derive(Debug, Deserialize)]
struct PushedQuery {
    pushed_epoch: Option<Uuid>,
    pushed_seq: Option<u64>,
    pushed_mark: Option<Uuid>,
}

impl PushedQuery {
    fn cursor(&self) -> Result<Option<Cursor>, Error> {
        whole(self.pushed_epoch, self.pushed_seq, self.pushed_mark)
    }
}

/// The version of the app that asks. Apps before 0.2.0 do not send it.
#[derive(Debug, Deserialize)]
struct AppQuery {
    app: Option<String>,
}

fn whole(epoch: Option<Uuid>, seq: Option<u64>, mark: Option<Uuid>) -> Result<Option<Cursor>, Error> {
    match (epoch, seq, mark) {
        (Some(epoch), Some(seq), Some(mark)) => Ok(Some(Cursor { epoch, seq, mark })),
        (None, None, None) => Ok(None),
        _ => Err(Error::Malformed),
    }
}

async fn pull(
    State(app): State<Arc<AppState>>,
    Joined(member): Joined,
    QueryString(query): QueryString<CursorQuery>,
    QueryString(pushed): QueryString<PushedQuery>,
    QueryString(AppQuery { app: version }): QueryString<AppQuery>,
) -> Result<Json<PullAnswer>, Refused> {
    let cursor = query.cursor()?;
    let answer = app.shop.pull(&member.role, cursor, pushed.cursor()?).await?;
    if let (Some(cursor), false) = (cursor, answer.more) {
        tokio::spawn(note_seen(app, member.device, cursor.seq, version));
    }
    Ok(Json(answer))
}

/// Notes how far a device has read, in a task of its own. Only the list of devices uses it, so the response does not
/// wait for it.
async fn note_seen(app: Arc<AppState>, device: DeviceId, seq: u64, version: Option<String>) {
    let version = version.as_deref().and_then(version::noted);
    if let Err(error) = app.shop.note_seen(device, seq, version).await {
        warn!(%device, ?error, "could not note how far a device has read");
    }
}

async fn missing(
    State(app): State<Arc<AppState>>,
    Joined(member): Joined,
    JsonBody(asked): JsonBody<MissingEntries>,
) -> Result<Json<MissingEntriesAnswer>, Refused> {
    let missing = app.shop.missing_entries(member.device, &asked.held).await?;
    Ok(Json(MissingEntriesAnswer { missing }))
}
