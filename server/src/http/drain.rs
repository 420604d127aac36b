//! Reading a request to its end before answering it.
//!
//! A refusal can be ready while the phone is still sending. Closing the connection then loses the refusal on the
//! way, and the phone sees a broken network instead of a reason. So what is left is read and thrown away, up to
//! a bound. And whoever stops in the middle of a body, or lets it trickle, is not waited for for ever.

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

/// The most bytes read only to be polite.
const MOST: usize = 32 * 1024 * 1024;
/// The longest time spent on it.
const LONGEST: Duration = Duration::from_secs(20);

type Chunks = Pin<Box<dyn Stream<Item = Result<Bytes, axum::Error>> + Send>>;

/// The other side did not go on with its body.
#[derive(Debug, thiserror::Error)]
#[error("the body did not go on")]
pub(super) struct TooSlow;

/// A request body that stays reachable after its handler has let go of it.
#[derive(Clone)]
struct DrainableBody(Arc<Mutex<Awaited>>);

/// A body that must go on: waiting counts, however the waits are cut into pieces, until [`PROGRESS`] bytes have come.
/// What the server itself takes its time for does not count.
struct Awaited {
    chunks: Chunks,
    connection: Arc<Connection>,
    /// Bytes since the last progress.
    come: usize,
    /// Waited since then, but for the wait that is going on.
    waited: Duration,
    /// The wait that is going on, and when it is too long.
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
    /// The next chunk has come, or the end.
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

    /// Nothing has come yet. Ready when it has been waited for long enough.
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

/// Answers, then reads what is left of the request.
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
    // Whoever stops sending, or sends without end, has no claim to a clean answer.
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
