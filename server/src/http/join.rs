//! `POST /api/v1/join` and `POST /api/v1/join-codes`: how a device becomes one of the shop's.

use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, State};
use axum::http::StatusCode;
use axum::routing::post;
use axum::{Json, Router};
use shared::sync::messages::{JoinAnswer, JoinCode, JoinRequest};
use tracing::info;

use super::AppState;
use super::body::JsonBody;
use super::error::Refused;
use crate::auth::Joined;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new()
        .route("/join", post(join))
        .route("/join-codes", post(code))
}

/// The only request without a token besides health checks and cards. The rate limit by address protects it against
/// guessing.
async fn join(
    State(app): State<Arc<AppState>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    JsonBody(request): JsonBody<JoinRequest>,
) -> Result<Json<JoinAnswer>, Refused> {
    app.limits.join(peer.ip())?;
    let answer = app.shop.join(&request).await?;
    info!(device = %request.device, letters = answer.letters, "a device joined");
    Ok(Json(answer))
}

async fn code(State(app): State<Arc<AppState>>, _: Joined) -> Result<(StatusCode, Json<JoinCode>), Refused> {
    Ok((StatusCode::CREATED, Json(app.shop.join_code().await?)))
}
