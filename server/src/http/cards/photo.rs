//! `GET /card/{secret}/photo/{sha256}`: a photograph that a shown section lists.

use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};

use super::AppState;
use crate::http::blobs::bytes_of;
use crate::http::body::PathPart;
use crate::http::error::Refused;
use server_core::error::Error;
use server_core::shop::CardPhotoAnswer;

/// A picture (SVG) with a message, in the place of a photograph that cannot be shown.
fn placeholder(title: &str, words: &str) -> String {
    [
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 480" role="img"><title>"#,
        title,
        r##"</title><rect width="640" height="480" fill="#e9e3dc"/><path d="M96 320c0-28 10-92 28-92 16 0 22 26 60 26 34 0 52-42 84-42 26 0 40 30 92 52 60 26 184 24 184 62v22H96z" fill="none" stroke="#6b6259" stroke-width="8" stroke-linejoin="round"/><path d="M96 348h448v22H236l-8-10h-44v30H96z" fill="#6b6259"/><text x="320" y="440" font-family="Georgia,serif" font-size="28" text-anchor="middle" fill="#3c352f">"##,
        words,
        "</text></svg>",
    ]
    .concat()
}

pub(super) async fn show(
    State(app): State<Arc<AppState>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    PathPart((secret, sha256)): PathPart<(String, String)>,
) -> Result<Response, Refused> {
    let shop = app.shop.clone();
    let photo = app
        .heavy
        .run(async move { shop.card_photo(&secret, &sha256).await })
        .await;
    if matches!(photo, Err(Error::NotFound)) {
        app.limits.guess(peer.ip())?;
    }
    match photo? {
        CardPhotoAnswer::Here(row, file) => {
            // Five minutes, about as long as the page is read: the card may be withdrawn and the photograph destroyed.
            let minutes = [(CACHE_CONTROL, HeaderValue::from_static("private, max-age=300"))];
            Ok((minutes, bytes_of(&row, file)).into_response())
        }
        CardPhotoAnswer::NotYet => Ok(drawn(
            StatusCode::OK,
            placeholder(
                words::pages::photograph_has_not_arrived(),
                words::pages::photograph_is_on_its_way(),
            ),
        )),
        // A page that was opened before the photograph was destroyed still asks for it.
        CardPhotoAnswer::Destroyed => Ok(drawn(
            StatusCode::GONE,
            placeholder(
                words::pages::photograph_was_destroyed(),
                words::pages::photograph_destroyed_by_the_shop(),
            ),
        )),
    }
}

fn drawn(status: StatusCode, svg: String) -> Response {
    let headers = [
        (CONTENT_TYPE, HeaderValue::from_static("image/svg+xml")),
        (CACHE_CONTROL, HeaderValue::from_static("no-store")),
    ];
    (status, headers, svg).into_response()
}
