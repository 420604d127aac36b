//! `POST /api/v1/shut-out`: the proof for a device that this shop has shut it out, without which it deletes nothing.

use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, State};
use axum::routing::post;
use axum::{Json, Router};
use shared::sync::messages::{ShutOutProof, ShutOutQuestion};
use tracing::info;

use super::body::JsonBody;
use super::error::Refused;
use super::{AppState, body_limit};

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new().route("/shut-out", post(prove).layer(body_limit::SMALL))
}

/// Needs no token, since that of the device is revoked: only a device that still has it can check the proof. Counts
/// against the same limit as an attempt to join.
async fn prove(
    State(app): State<Arc<AppState>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    JsonBody(question): JsonBody<ShutOutQuestion>,
) -> Result<Json<ShutOutProof>, Refused> {
    app.limits.join(peer.ip())?;
    let proof = app.shop.shut_out_proof(&question).await?;
    info!(device = %question.device, "a device was told that it is shut out");
    Ok(Json(proof))
}
