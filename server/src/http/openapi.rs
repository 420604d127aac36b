//! `GET /api/v1/openapi.json`: the description of the API. It is written by hand; a test compares it with the routes
//! and with real responses.

use std::sync::Arc;

use axum::Router;
use axum::http::HeaderValue;
use axum::http::header::CONTENT_TYPE;
use axum::response::IntoResponse;
use axum::routing::get;

use super::AppState;

const DESCRIPTION: &str = include_str!("../../openapi.json");

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new().route("/openapi.json", get(show))
}

async fn show() -> impl IntoResponse {
    (
        [(CONTENT_TYPE, HeaderValue::from_static("application/json"))],
        DESCRIPTION,
    )
}
