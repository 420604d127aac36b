//! `GET /api/v1/status`: counts of what the server has.

use std::sync::Arc;

use axum::extract::State;
use axum::routing::get;
use axum::{Json, Router};
use shared::sync::messages::Status;

use super::AppState;
use super::error::Refused;
use crate::auth::Joined;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new().route("/status", get(status))
}

async fn status(State(app): State<Arc<AppState>>, _: Joined) -> Result<Json<Status>, Refused> {
    Ok(Json(app.shop.status().await?))
}
