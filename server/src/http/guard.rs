//! What stands before every handler: the limit per address, and the net under a fault of our own.

use std::any::Any;
use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, Request, State};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use tracing::error;

use super::App;
use crate::error::Error;

/// Counts a request against its address.
pub(super) async fn address(
    State(app): State<Arc<App>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    request: Request,
    next: Next,
) -> Response {
    match app.limits.address(peer.ip()) {
        Ok(()) => next.run(request).await,
        Err(error) => error.into_response(),
    }
}

/// The answer when a handler has panicked.
#[expect(clippy::needless_pass_by_value, reason = "the shape the layer asks for")]
pub(super) fn panicked(panic: Box<dyn Any + Send + 'static>) -> Response {
    let text = panic
        .downcast_ref::<String>()
        .map(String::as_str)
        .or_else(|| panic.downcast_ref::<&str>().copied());
    error!(panic = text.unwrap_or("no message"), "a handler panicked");
    Error::Fault.into_response()
}
