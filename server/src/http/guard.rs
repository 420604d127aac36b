//! Layers around all handlers: the rate limit by address, the notice of failed writes for the health check, and the
//! answer when a handler panics.

use std::any::Any;
use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, Request, State};
use axum::http::StatusCode;
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use tracing::error;

use super::AppState;
use super::error::Refused;
use server_core::error::Error;

/// Counts a request against the limit of its address.
pub(super) async fn address(
    State(app): State<Arc<AppState>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    request: Request,
    next: Next,
) -> Response {
    match app.limits.address(peer.ip()) {
        Ok(()) => {
            let response = next.run(request).await;
            if matches!(
                response.status(),
                StatusCode::INSUFFICIENT_STORAGE | StatusCode::INTERNAL_SERVER_ERROR
            ) {
                app.readiness.doubt();
            }
            response
        }
        Err(error) => Refused(error).into_response(),
    }
}

/// The response when a handler has panicked.
#[expect(clippy::needless_pass_by_value, reason = "the shape the layer asks for")]
pub(super) fn panicked(panic: Box<dyn Any + Send + 'static>) -> Response {
    let text = panic
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| panic.downcast_ref::<&str>().copied());
    error!(panic = text.unwrap_or("no message"), "a handler panicked");
    Refused(Error::Fault).into_response()
}

#[cfg(test)]
mod tests {
    use axum::body::to_bytes;
    use shared::sync::{Code, Problem};

    use super::*;

    #[tokio::test]
    async fn a_panic_is_answered_and_not_shown() {
        let response = panicked(Box::new("index out of bounds at src/secret.rs"));
        assert_eq!(response.status(), StatusCode::INTERNAL_SERVER_ERROR);
        let body = to_bytes(response.into_body(), 10_000).await.unwrap();
        let problem: Problem = serde_json::from_slice(&body).unwrap();
        assert_eq!(problem.code, Code::Internal);
        assert!(!problem.message.contains("secret"));
    }
}
