//! `POST /api/v1/join` and `POST /api/v1/join-codes`: how a device becomes one of the shop's.

use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, State};
use axum::http::{HeaderMap, StatusCode};
use axum::routing::post;
use axum::{Json, Router};
use shared::sync::messages::{JoinAnswer, JoinCode, JoinRequest};
use tracing::info;

use super::body::{JsonBody, WholeBody};
use super::error::Refused;
use super::{AppState, body_limit};
use crate::auth::{self, Joined};

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new()
        .route("/join", post(join).layer(body_limit::JOIN))
        .route("/join-codes", post(code).layer(body_limit::SMALL))
}

/// The only request without a token besides health checks and cards. The rate limit by address protects it against
/// guessing. A device that joins again while it has access sends its token: nobody else can join under its id.
async fn join(
    State(app): State<Arc<AppState>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    headers: HeaderMap,
    JsonBody(request): JsonBody<JoinRequest>,
) -> Result<Json<JoinAnswer>, Refused> {
    app.limits.join(peer.ip())?;
    let answer = app.shop.join_with(&request, auth::token(&headers).ok()).await?;
    info!(device = %request.device, letters = answer.letters, "a device joined");
    Ok(Json(answer))
}

/// Needs no body. One is read only to refuse it if it is too large.
async fn code(
    State(app): State<Arc<AppState>>,
    joined: Joined,
    _: WholeBody,
) -> Result<(StatusCode, Json<JoinCode>), Refused> {
    Ok((StatusCode::CREATED, Json(app.shop.join_code_of(joined.0).await?)))
}
