//! Reads request bodies, paths and queries; what cannot be read is refused with an [`Error`].

use std::error::Error as StdError;

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{FromRequest, FromRequestParts, Path, Query, Request};
use axum::http::StatusCode;
use axum::http::request::Parts;
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

/// A body of JSON, whatever its `Content-Type`.
pub(super) struct JsonBody<T>(pub(super) T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequest<S> for JsonBody<T> {
    type Rejection = Refused;

    async fn from_request(request: Request, state: &S) -> Result<Self, Refused> {
        let WholeBody(bytes) = WholeBody::from_request(request, state).await?;
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
