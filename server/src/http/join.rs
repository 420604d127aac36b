//! `POST /api/v1/join` and `POST /api/v1/join-codes`: how a device becomes one of the shop's.

use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, State};
use axum::http::StatusCode;
use axum::routing::post;
use axum::{Json, Router};
use shared::sync::messages::{JoinAnswer, JoinCode, JoinRequest};
use tracing::info;

use super::App;
use super::body::Read;
use crate::auth::Joined;
use crate::error::Error;

pub(super) fn router() -> Router<Arc<App>> {
    Router::new()
        .route("/join", post(join))
        .route("/join-codes", post(code))
}

/// The only request without a token besides health and cards; guessing is limited by address.
async fn join(
    State(app): State<Arc<App>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    Read(request): Read<JoinRequest>,
) -> Result<Json<JoinAnswer>, Error> {
    app.limits.join(peer.ip())?;
    let answer = app.shop.join(&request).await?;
    info!(device = %request.device, letters = answer.letters, "a device joined");
    Ok(Json(answer))
}

async fn code(State(app): State<Arc<App>>, _: Joined) -> Result<(StatusCode, Json<JoinCode>), Error> {
    Ok((StatusCode::CREATED, Json(app.shop.join_code().await?)))
}
