//! `GET /health`: whether the server is up and its database answers. For people and for whatever watches it.

use std::sync::Arc;

use axum::Router;
use axum::extract::State;
use axum::routing::get;

use super::App;
use crate::error::Error;

pub(super) fn router() -> Router<Arc<App>> {
    Router::new().route("/health", get(health))
}

async fn health(State(app): State<Arc<App>>) -> Result<&'static str, Error> {
    app.shop.is_well().await?;
    Ok("ok\n")
}
