//! `GET /api/v1/openapi.json`: the description of all this. Kept by hand; a test holds it to the routes and to
//! real answers.

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
