//! Reads request bodies, paths and queries; what cannot be read is refused with an [`Error`].

use std::error::Error as StdError;

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{FromRequest, FromRequestParts, Path, Query, Request};
use axum::http::header::CONTENT_TYPE;
use axum::http::request::Parts;
use axum::http::{HeaderMap, StatusCode};
use serde::de::DeserializeOwned;

use super::drain::TooSlow;
use super::error::Refused;
use server_core::error::Error;

/// A body as bytes, of at most the route's limit.
pub(super) struct WholeBody(pub(super) Bytes);

impl<S: Send + Sync> FromRequest<S> for WholeBody {
    type Rejection = Refused;

    async fn from_request(request: Request, state: &S) -> Result<Self, Refused> {
        let bytes = Bytes::from_request(request, state).await.map_err(unread)?;
        Ok(Self(bytes))
    }
}

/// The error for a body that could not be read to its end. If the client has closed the connection, nobody receives it.
pub(super) fn broken(error: &axum::Error) -> Error {
    if is_too_slow(error) {
        Error::TooSlow
    } else {
        Error::Malformed
    }
}

fn is_too_slow(error: &(dyn StdError + 'static)) -> bool {
    std::iter::successors(Some(error), |&error| error.source()).any(|error| error.is::<TooSlow>())
}

fn unread(rejection: BytesRejection) -> Error {
    use axum::response::IntoResponse;
    if is_too_slow(&rejection) {
        return Error::TooSlow;
    }
    if rejection.into_response().status() == StatusCode::PAYLOAD_TOO_LARGE {
        Error::TooLarge
    } else {
        Error::Malformed
    }
}

/// A body that has to be JSON, as bytes, of at most the route's limit. It is not read if its `Content-Type` says that it is
/// something that a page of another origin can send without asking first: a form or plain text. Without one, as some apps
/// send it, and with any other type, it is read as JSON.
pub(super) struct JsonText(pub(super) Bytes);

impl<S: Send + Sync> FromRequest<S> for JsonText {
    type Rejection = Refused;

    async fn from_request(request: Request, state: &S) -> Result<Self, Refused> {
        if is_said_to_be_no_json(request.headers()) {
            return Err(Error::NotJson.into());
        }
        let WholeBody(bytes) = WholeBody::from_request(request, state).await?;
        Ok(Self(bytes))
    }
}

/// Whether any `Content-Type` names a form or text. One that cannot be read names nothing.
fn is_said_to_be_no_json(headers: &HeaderMap) -> bool {
    let mut types = headers.get_all(CONTENT_TYPE).iter();
    types.any(|media_type| {
        let media_type = media_type.to_str().unwrap_or_default().trim_start();
        let media_type = media_type.to_ascii_lowercase();
        let other = ["application/x-www-form-urlencoded", "multipart/", "text/"];
        other.iter().any(|other| media_type.starts_with(other))
    })
}

/// A body of JSON, as [`JsonText`].
pub(super) struct JsonBody<T>(pub(super) T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequest<S> for JsonBody<T> {
    type Rejection = Refused;

    async fn from_request(request: Request, state: &S) -> Result<Self, Refused> {
        let JsonText(bytes) = JsonText::from_request(request, state).await?;
        let read = serde_json::from_slice(&bytes).map_err(|_| Error::Malformed)?;
        Ok(Self(read))
    }
}

/// A part of the path.
pub(super) struct PathPart<T>(pub(super) T);

impl<S: Send + Sync, T: DeserializeOwned + Send> FromRequestParts<S> for PathPart<T> {
    type Rejection = Refused;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Refused> {
        // A part that is not UTF-8 names nothing that exists.
        let Path(name) = Path::from_request_parts(parts, state)
            .await
            .map_err(|_| Error::Malformed)?;
        Ok(Self(name))
    }
}

/// The query string.
pub(super) struct QueryString<T>(pub(super) T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequestParts<S> for QueryString<T> {
    type Rejection = Refused;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Refused> {
        let Query(asked) = Query::from_request_parts(parts, state)
            .await
            .map_err(|_| Error::Malformed)?;
        Ok(Self(asked))
    }
}

#[cfg(test)]
mod tests {
    use axum::http::HeaderValue;

    use super::*;

    #[test]
    fn forms_and_text_are_no_json_and_everything_else_may_be() {
        let said = |media_type: &'static str| {
            let headers = HeaderMap::from_iter([(CONTENT_TYPE, HeaderValue::from_static(media_type))]);
            is_said_to_be_no_json(&headers)
        };
        for other in [
            "text/plain;charset=UTF-8",
            "Text/JSON",
            "application/x-www-form-urlencoded",
            "multipart/form-data; boundary=x",
            " text/plain",
        ] {
            assert!(said(other), "{other}");
        }
        for perhaps in [
            "application/json",
            "application/json; charset=utf-8",
            "application/octet-stream",
            "application/problem+json",
            "",
        ] {
            assert!(!said(perhaps), "{perhaps}");
        }
        assert!(!is_said_to_be_no_json(&HeaderMap::new()));
    }
}
