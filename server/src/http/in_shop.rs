//! `GET /api/v1/in-shop`: what is in the shop now.

use std::sync::Arc;

use axum::extract::State;
use axum::routing::get;
use axum::{Json, Router};
use shared::sync::messages::InShopAnswer;

use super::AppState;
use super::error::Refused;
use crate::auth::Joined;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new().route("/in-shop", get(in_shop))
}

async fn in_shop(State(app): State<Arc<AppState>>, _: Joined) -> Result<Json<InShopAnswer>, Refused> {
    Ok(Json(app.shop.in_shop().await?))
}
