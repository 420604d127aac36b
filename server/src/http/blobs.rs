//! `/api/v1/blobs`: photographs and voice notes by the SHA-256 of their bytes.

use std::sync::Arc;

use axum::body::Body;
use axum::extract::State;
use axum::http::header::{CACHE_CONTROL, CONTENT_LENGTH, CONTENT_TYPE};
use axum::http::{HeaderMap, HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use futures_util::StreamExt;
use shared::sync::messages::{MAX_BLOB, MissingBlobs, MissingBlobsAnswer};
use tokio::fs::File;
use tokio_util::io::ReaderStream;

use super::body::{JsonBody, PathPart, broken};
use super::error::Refused;
use super::{AppState, body_limit};
use crate::auth::Joined;
use server_core::shop::Put;
use server_core::store::BlobRow;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new()
        .route("/blobs/{sha256}", get(show).put(put).layer(body_limit::BLOB))
        .route("/blobs/missing", post(missing).layer(body_limit::MISSING))
}

async fn put(
    State(app): State<Arc<AppState>>,
    _: Joined,
    PathPart(sha256): PathPart<String>,
    headers: HeaderMap,
    body: Body,
) -> Result<StatusCode, Refused> {
    let media_type = headers
        .get(CONTENT_TYPE)
        .and_then(|value| value.to_str().ok())
        .unwrap_or_default();
    // The parameters are cut off: a browser adds codecs to the type of a recording, as in `audio/webm;codecs=opus`.
    let media_type = media_type
        .split(';')
        .next()
        .unwrap_or_default()
        .trim()
        .to_ascii_lowercase();
    let bytes = headers
        .get(CONTENT_LENGTH)
        .and_then(|length| length.to_str().ok()?.parse().ok());
    app.quota
        .admit_photo(&app.shop, bytes.unwrap_or(MAX_BLOB as u64))
        .await?;
    let body = body
        .into_data_stream()
        .map(|chunk| chunk.map_err(|error| broken(&error)));
    match app.shop.put_blob(&sha256, &media_type, body).await? {
        Put::New => Ok(StatusCode::CREATED),
        Put::Here => Ok(StatusCode::OK),
    }
}

async fn show(
    State(app): State<Arc<AppState>>,
    _: Joined,
    PathPart(sha256): PathPart<String>,
) -> Result<Response, Refused> {
    let (row, file) = app.shop.blob(&sha256).await?;
    // A device keeps what it has fetched in its own store, where an erasure also reaches it. The browser's cache would
    // keep it.
    let nowhere = HeaderValue::from_static("no-store");
    Ok(([(CACHE_CONTROL, nowhere)], bytes_of(&row, file)).into_response())
}

/// A response with a blob's bytes. The caller has checked that the client may see them.
pub(super) fn bytes_of(row: &BlobRow, file: File) -> Response {
    let media_type = HeaderValue::from_str(&row.media_type);
    let headers = [
        (
            CONTENT_TYPE,
            media_type.unwrap_or(HeaderValue::from_static("application/octet-stream")),
        ),
        (CONTENT_LENGTH, HeaderValue::from(row.bytes)),
    ];
    (headers, Body::from_stream(ReaderStream::new(file))).into_response()
}

async fn missing(
    State(app): State<Arc<AppState>>,
    _: Joined,
    JsonBody(asked): JsonBody<MissingBlobs>,
) -> Result<Json<MissingBlobsAnswer>, Refused> {
    Ok(Json(MissingBlobsAnswer {
        missing: app.shop.missing_blobs(&asked.hashes).await?,
    }))
}
