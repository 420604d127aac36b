//! Reading a request to its end before answering it.
//!
//! A refusal can be ready while the phone is still sending. Closing the connection then loses the refusal on the
//! way, and the phone sees a broken network instead of a reason. So what is left is read and thrown away, up to
//! a bound. And whoever stops in the middle of a body is not waited for for ever.

use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};
use std::task::{Context, Poll};
use std::time::Duration;

use axum::body::{Body, Bytes};
use axum::extract::Request;
use axum::middleware::Next;
use axum::response::Response;
use futures_util::Stream;
use tokio_stream::StreamExt;

/// The most bytes read only to be polite.
const MOST: usize = 32 * 1024 * 1024;
/// The longest time spent on it.
const LONGEST: Duration = Duration::from_secs(20);

/// The longest silence in the middle of a body.
const SILENCE: Duration = Duration::from_secs(30);

type Chunks = Pin<Box<dyn Stream<Item = Result<Bytes, axum::Error>> + Send>>;

/// A request body that stays reachable after its handler has let go of it.
#[derive(Clone)]
struct Kept(Arc<Mutex<Chunks>>);

impl Kept {
    fn new(body: Body) -> Self {
        let chunks = body.into_data_stream().timeout(SILENCE);
        let chunks = chunks.map(|chunk| chunk.unwrap_or_else(|silence| Err(axum::Error::new(silence))));
        Self(Arc::new(Mutex::new(Box::pin(chunks))))
    }
}

impl Stream for Kept {
    type Item = Result<Bytes, axum::Error>;

    fn poll_next(self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Option<Self::Item>> {
        self.0
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .as_mut()
            .poll_next(context)
    }
}

/// Answers, then reads what is left of the request.
pub(super) async fn drain(request: Request, next: Next) -> Response {
    let (parts, body) = request.into_parts();
    let kept = Kept::new(body);
    let response = next
        .run(Request::from_parts(parts, Body::from_stream(kept.clone())))
        .await;
    // Whoever stops sending, or sends without end, has no claim to a clean answer.
    let _ = tokio::time::timeout(LONGEST, rest(kept)).await;
    response
}

async fn rest(mut kept: Kept) {
    let mut left = MOST;
    while let Some(Ok(chunk)) = kept.next().await {
        left = left.saturating_sub(chunk.len());
        if left == 0 {
            return;
        }
    }
}
