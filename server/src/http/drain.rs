//! Reads a request to its end even when it was answered early.
//!
//! A refusal can be ready while the phone is still sending. If the connection were closed then, the refusal would be
//! lost and the phone would see a network error instead of a reason. So the rest of the request is read and thrown
//! away, up to a limit. A client that stops sending in the middle of a body, or sends it too slowly, is given up.

use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};
use std::task::{Context, Poll};
use std::time::Duration;

use axum::Extension;
use axum::body::{Body, Bytes};
use axum::extract::Request;
use axum::middleware::Next;
use axum::response::Response;
use futures_util::{Stream, StreamExt};
use tokio::time::{Instant, Sleep, sleep};

use crate::connections::{Connection, PROGRESS};

/// The most bytes of a request that are read only to be thrown away.
const MOST: usize = 32 * 1024 * 1024;
/// The longest time spent on that.
const LONGEST: Duration = Duration::from_secs(20);

type Chunks = Pin<Box<dyn Stream<Item = Result<Bytes, axum::Error>> + Send>>;

/// The error of a body that the client did not go on sending.
#[derive(Debug, thiserror::Error)]
#[error("the body did not go on")]
pub(super) struct TooSlow;

/// A request body that can still be read after its handler has dropped it.
#[derive(Clone)]
struct DrainableBody(Arc<Mutex<Awaited>>);

/// A body with a time limit for every [`PROGRESS`] bytes. Only the time spent waiting for the client counts, summed
/// over all waits; the time that the server needs does not.
struct Awaited {
    chunks: Chunks,
    connection: Arc<Connection>,
    /// Bytes received since the last progress.
    come: usize,
    /// Time waited since the last progress, without the present wait.
    waited: Duration,
    /// The present wait: when it began, and a timer for the time that is left.
    waiting: Option<(Instant, Pin<Box<Sleep>>)>,
    given_up: bool,
}

impl DrainableBody {
    fn new(body: Body, connection: Arc<Connection>) -> Self {
        Self(Arc::new(Mutex::new(Awaited {
            chunks: Box::pin(body.into_data_stream()),
            connection,
            come: 0,
            waited: Duration::ZERO,
            waiting: None,
            given_up: false,
        })))
    }
}

impl Awaited {
    /// Notes that a chunk of so many bytes, or the end of the body (0), has arrived.
    fn come(&mut self, bytes: usize) {
        if let Some((since, _)) = self.waiting.take() {
            self.waited += since.elapsed();
            self.connection.reads(false);
        }
        self.come += bytes;
        if self.come >= PROGRESS {
            self.come = 0;
            self.waited = Duration::ZERO;
        }
    }

    /// Waits for the client. Ready when the time limit is over.
    fn wait(&mut self, context: &mut Context<'_>) -> Poll<()> {
        let left = self.connection.wait_body().saturating_sub(self.waited);
        let (_, alarm) = self.waiting.get_or_insert_with(|| {
            self.connection.reads(true);
            (Instant::now(), Box::pin(sleep(left)))
        });
        alarm.as_mut().poll(context)
    }

    fn poll(&mut self, context: &mut Context<'_>) -> Poll<Option<Result<Bytes, axum::Error>>> {
        if self.given_up {
            return Poll::Ready(None);
        }
        if let Poll::Ready(chunk) = self.chunks.as_mut().poll_next(context) {
            self.come(
                chunk
                    .as_ref()
                    .map_or(0, |chunk| chunk.as_ref().map_or(0, Bytes::len)),
            );
            return Poll::Ready(chunk);
        }
        if self.wait(context).is_pending() {
            return Poll::Pending;
        }
        self.given_up = true;
        self.connection.reads(false);
        self.connection.body_too_slow();
        Poll::Ready(Some(Err(axum::Error::new(TooSlow))))
    }
}

impl Stream for DrainableBody {
    type Item = Result<Bytes, axum::Error>;

    fn poll_next(self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Option<Self::Item>> {
        self.0
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .poll(context)
    }
}

/// Answers the request, then reads the rest of it.
pub(super) async fn drain(
    Extension(connection): Extension<Arc<Connection>>,
    request: Request,
    next: Next,
) -> Response {
    let (parts, body) = request.into_parts();
    let kept = DrainableBody::new(body, connection);
    let response = next
        .run(Request::from_parts(parts, Body::from_stream(kept.clone())))
        .await;
    // A client that stops sending, or never stops, may lose the response.
    let _ = tokio::time::timeout(LONGEST, rest(kept)).await;
    response
}

async fn rest(mut kept: DrainableBody) {
    let mut left = MOST;
    while let Some(Ok(chunk)) = kept.next().await {
        left = left.saturating_sub(chunk.len());
        if left == 0 {
            return;
        }
    }
}
