//! How an [`Error`] looks in HTTP: a status, and a [`Problem`](shared::sync::Problem) as JSON.

use axum::Json;
use axum::http::header::{CACHE_CONTROL, RETRY_AFTER};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use tracing::error;

use server_core::error::Error;

/// An error on its way to the client. Handlers and extractors return it.
#[derive(Debug)]
pub struct Refused(pub Error);

impl<E: Into<Error>> From<E> for Refused {
    fn from(error: E) -> Self {
        Self(error.into())
    }
}

/// The HTTP status of an error. An error that this crate does not know is a failure of the server.
pub(super) fn status_code(error: &Error) -> StatusCode {
    match error {
        Error::Malformed | Error::BadHash | Error::Empty => StatusCode::BAD_REQUEST,
        Error::TokenMissing | Error::TokenUnknown | Error::TokenRevoked | Error::TokenExpired => {
            StatusCode::UNAUTHORIZED
        }
        Error::CodeUnknown | Error::ForRepairer => StatusCode::FORBIDDEN,
        Error::NotFound => StatusCode::NOT_FOUND,
        Error::MethodNotAllowed => StatusCode::METHOD_NOT_ALLOWED,
        Error::OtherShop | Error::DeviceTaken | Error::LastRepairer | Error::CursorLost => {
            StatusCode::CONFLICT
        }
        Error::CodeExpired | Error::Erased => StatusCode::GONE,
        Error::TooSlow => StatusCode::REQUEST_TIMEOUT,
        Error::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
        Error::MediaType | Error::NotJson => StatusCode::UNSUPPORTED_MEDIA_TYPE,
        Error::HashMismatch | Error::HasExif => StatusCode::UNPROCESSABLE_ENTITY,
        Error::TooMany { .. } => StatusCode::TOO_MANY_REQUESTS,
        Error::DiskFull | Error::QuotaFull => StatusCode::INSUFFICIENT_STORAGE,
        Error::Unavailable => StatusCode::SERVICE_UNAVAILABLE,
        Error::Store(_) | Error::Files(_) | Error::Fault => StatusCode::INTERNAL_SERVER_ERROR,
    }
}

/// Logs the source of an error, which the client is not told.
pub(super) fn note(error: &Error) {
    match error {
        Error::Store(source) => error!(error = ?source, "the database failed"),
        Error::Files(source) => error!(error = ?source, "the data folder failed"),
        Error::DiskFull => error!("the disk is full"),
        Error::QuotaFull => error!("the shop has as much as --quota-entries or --quota-photos allow"),
        _ => {}
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        let Self(error) = self;
        note(&error);
        let problem = error.problem();
        let mut response = (status_code(&error), Json(&problem)).into_response();
        let headers = response.headers_mut();
        headers.insert(CACHE_CONTROL, HeaderValue::from_static("no-store"));
        if let Some(seconds) = problem.retry_after {
            headers.insert(RETRY_AFTER, HeaderValue::from(seconds));
        }
        response
    }
}
