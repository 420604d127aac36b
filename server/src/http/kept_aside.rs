//! `/api/v1/kept-aside`: entries that wait for a repairer, because the role of the device that sent them may not write
//! them.

use std::sync::Arc;

use axum::extract::State;
use axum::routing::get;
use axum::{Json, Router};
use shared::sync::messages::{KeptAsideAnswer, KeptAsideDecided, KeptAsideDecision};
use tracing::info;

use super::body::JsonBody;
use super::error::Refused;
use super::{AppState, body_limit};
use crate::auth::Repairer;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new().route(
        "/kept-aside",
        get(list).post(decide).layer(body_limit::KEPT_ASIDE),
    )
}

async fn list(State(app): State<Arc<AppState>>, _: Repairer) -> Result<Json<KeptAsideAnswer>, Refused> {
    Ok(Json(app.shop.kept_aside().await?))
}

async fn decide(
    State(app): State<Arc<AppState>>,
    Repairer(member): Repairer,
    JsonBody(decision): JsonBody<KeptAsideDecision>,
) -> Result<Json<KeptAsideDecided>, Refused> {
    let decided = app.shop.decide_kept_aside(&member, &decision).await?;
    let (take, drop) = (decision.take.len(), decision.drop.len());
    info!(device = %member.device, take, drop, "a repairer has decided about entries that were kept aside");
    Ok(Json(decided))
}
