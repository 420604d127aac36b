//! The bench app's own files: read from a folder such as `app/dist`, or embedded in the binary.

mod assets;

use std::sync::Arc;

use axum::Router;
use axum::extract::State;
use axum::http::header::{
    ACCEPT, ACCEPT_ENCODING, CACHE_CONTROL, CONTENT_ENCODING, CONTENT_TYPE, ETAG, IF_NONE_MATCH, VARY,
};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, Uri};
use axum::response::{IntoResponse, Response};
use sha2::{Digest as _, Sha256};

use assets::Asset;
pub use assets::Assets;

use super::AppState;
use crate::http::error::Refused;
use crate::http::security::AnswerKind;
use server_core::error::Error;

const FOREVER: HeaderValue = HeaderValue::from_static("public, max-age=31536000, immutable");
const ASK_AGAIN: HeaderValue = HeaderValue::from_static("no-cache");

/// Answers every request that no other route answers.
pub(super) fn fallback() -> Router<Arc<AppState>> {
    Router::new().fallback(serve)
}

async fn serve(
    State(app): State<Arc<AppState>>,
    method: Method,
    uri: Uri,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    let path = uri.path().trim_start_matches('/');
    let ours = ["api/", "card/", "card-style/"]
        .iter()
        .any(|room| path.starts_with(room));
    if ours || !matches!(method, Method::GET | Method::HEAD) {
        return Err(Error::NotFound.into());
    }
    let accepts = header(&headers, ACCEPT_ENCODING);
    if !path.is_empty()
        && let Some(asset) = app.assets.find(path, accepts).await
    {
        return Ok(answer(asset, &headers));
    }
    if !is_navigation(path, header(&headers, ACCEPT)) {
        return Err(Error::NotFound.into());
    }
    match app.assets.find("index.html", accepts).await {
        Some(page) => Ok(answer(page, &headers)),
        None => Ok((StatusCode::NOT_FOUND, words::pages::app_not_built()).into_response()),
    }
}

/// Whether a browser is opening a page of the app, and not fetching one of its files. A missing file is answered with
/// 404 and never with the page, which an outdated page would take for its script.
fn is_navigation(path: &str, accept: &str) -> bool {
    let file = path.rsplit('/').next().is_some_and(|name| name.contains('.'));
    path.is_empty() || (!file && accept.contains("text/html"))
}

fn answer(asset: Asset, headers: &HeaderMap) -> Response {
    let tag = format!("\"{}\"", hex::encode(&Sha256::digest(&asset.bytes)[..16]));
    let tag = HeaderValue::from_str(&tag).unwrap_or(HeaderValue::from_static(""));
    let cache = if is_hashed(&asset.name) {
        FOREVER
    } else {
        ASK_AGAIN
    };
    let mut response = if headers.get(IF_NONE_MATCH) == Some(&tag) {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        let kind = mime_guess::from_path(&asset.name).first_or_octet_stream();
        let kind = HeaderValue::from_str(kind.as_ref())
            .unwrap_or(HeaderValue::from_static("application/octet-stream"));
        ([(CONTENT_TYPE, kind)], asset.bytes).into_response()
    };
    let out = response.headers_mut();
    if let Some(encoding) = asset.encoding {
        out.insert(CONTENT_ENCODING, HeaderValue::from_static(encoding));
    }
    out.insert(CACHE_CONTROL, cache);
    out.insert(ETAG, tag);
    out.insert(VARY, HeaderValue::from_static("accept-encoding"));
    AnswerKind::App.mark(response)
}

/// Whether a file name carries a hash of its content: eight or more hex digits between separators.
fn is_hashed(name: &str) -> bool {
    let name = name.rsplit('/').next().unwrap_or_default();
    name.split(['.', '-', '_'])
        .any(|part| part.len() >= 8 && part.bytes().all(|b| b.is_ascii_hexdigit()))
}

fn header(headers: &HeaderMap, name: axum::http::HeaderName) -> &str {
    headers
        .get(name)
        .and_then(|value| value.to_str().ok())
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_pages_fall_back_to_the_app() {
        assert!(is_navigation("", ""));
        assert!(is_navigation("join", "text/html,application/xhtml+xml"));
        assert!(!is_navigation("join", "*/*"));
        assert!(!is_navigation("pkg/app-0123456789abcdef.wasm", "text/html"));
    }

    #[test]
    fn names_with_a_hash_are_kept_for_ever() {
        assert!(is_hashed("app-0123456789abcdef.wasm") && is_hashed("pkg/app.deadbeef.js"));
        assert!(!is_hashed("index.html") && !is_hashed("sw.js") && !is_hashed("manifest.webmanifest"));
    }
}
