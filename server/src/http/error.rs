//! How an [`Error`] looks in HTTP: a status, and a [`Problem`](shared::sync::Problem) as JSON.

use axum::Json;
use axum::http::header::{CACHE_CONTROL, RETRY_AFTER};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use tracing::error;

use crate::error::Error;

impl Error {
    /// The HTTP status.
    pub fn status_code(&self) -> StatusCode {
        match self {
            Self::Malformed | Self::BadHash | Self::Empty => StatusCode::BAD_REQUEST,
            Self::TokenMissing | Self::TokenUnknown | Self::TokenRevoked => StatusCode::UNAUTHORIZED,
            Self::CodeUnknown => StatusCode::FORBIDDEN,
            Self::NotFound => StatusCode::NOT_FOUND,
            Self::MethodNotAllowed => StatusCode::METHOD_NOT_ALLOWED,
            Self::OtherShop | Self::CursorLost => StatusCode::CONFLICT,
            Self::CodeExpired | Self::Erased => StatusCode::GONE,
            Self::TooSlow => StatusCode::REQUEST_TIMEOUT,
            Self::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
            Self::MediaType => StatusCode::UNSUPPORTED_MEDIA_TYPE,
            Self::HashMismatch => StatusCode::UNPROCESSABLE_ENTITY,
            Self::TooMany { .. } => StatusCode::TOO_MANY_REQUESTS,
            Self::DiskFull => StatusCode::INSUFFICIENT_STORAGE,
            Self::Unavailable => StatusCode::SERVICE_UNAVAILABLE,
            Self::Store(_) | Self::Files(_) | Self::Fault => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    /// Logs the source of an error, which the client is not told.
    pub(super) fn note(&self) {
        match self {
            Self::Store(source) => error!(error = ?source, "the database failed"),
            Self::Files(source) => error!(error = ?source, "the data folder failed"),
            Self::DiskFull => error!("the disk is full"),
            _ => {}
        }
    }
}

impl IntoResponse for Error {
    fn into_response(self) -> Response {
        self.note();
        let problem = self.problem();
        let mut response = (self.status_code(), Json(&problem)).into_response();
        let headers = response.headers_mut();
        headers.insert(CACHE_CONTROL, HeaderValue::from_static("no-store"));
        if let Some(seconds) = problem.retry_after {
            headers.insert(RETRY_AFTER, HeaderValue::from(seconds));
        }
        response
    }
}
