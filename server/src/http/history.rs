//! `GET /api/v1/history`: the entries that the server had when a device joined, newest subject first.

use std::sync::Arc;

use axum::extract::State;
use axum::routing::get;
use axum::{Json, Router};
use serde::Deserialize;
use shared::sync::HistoryMark;
use shared::sync::messages::HistoryAnswer;

use super::AppState;
use super::body::QueryString;
use super::entries::CursorQuery;
use super::error::Refused;
use crate::auth::Joined;
use server_core::error::Error;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new().route("/history", get(history))
}

/// The last entry of the page before: both of its fields, or none.
#[derive(Debug, Deserialize)]
pub(super) struct MarkQuery {
    before_subject: Option<u64>,
    before_seq: Option<u64>,
}

impl MarkQuery {
    /// The mark, if the query has one.
    pub(super) fn mark(&self) -> Result<Option<HistoryMark>, Error> {
        match (self.before_subject, self.before_seq) {
            (Some(subject_seq), Some(seq)) => Ok(Some(HistoryMark { subject_seq, seq })),
            (None, None) => Ok(None),
            _ => Err(Error::Malformed),
        }
    }
}

async fn history(
    State(app): State<Arc<AppState>>,
    _: Joined,
    QueryString(query): QueryString<CursorQuery>,
    QueryString(from): QueryString<MarkQuery>,
) -> Result<Json<HistoryAnswer>, Refused> {
    let start = query.cursor()?.ok_or(Error::Malformed)?;
    Ok(Json(app.shop.history(start, from.mark()?).await?))
}
