//! Room in memory for large requests and answers. A slow client keeps its request, or its answer, in memory for as long as
//! it takes to send or to read it; many of them at once must not fill the memory.

use std::sync::Arc;
use std::time::Duration;

use axum::body::{Body, Bytes, HttpBody};
use axum::extract::{FromRequestParts, Request, State};
use axum::http::HeaderValue;
use axum::http::header::CONTENT_LENGTH;
use axum::http::request::Parts;
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use futures_util::{StreamExt, stream};
use shared::sync::messages::BATCH_BYTES;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::time::timeout;

use super::AppState;
use super::error::Refused;
use server_core::error::Error;

/// Kilobytes for the bodies of requests. What is read from a body takes as much again, or a little more.
const REQUESTS: usize = 16_000;
/// Kilobytes for answers.
const ANSWERS: usize = 48_000;
/// Requests and answers of so many bytes or less are not counted: all connections together have few of them.
const SMALL: u64 = 64_000;
/// How long a request waits for room before it is told to come again.
const WAIT: Duration = Duration::from_secs(10);
/// The bytes of one part of an answer.
const PART: usize = 64_000;

/// The room that is left.
#[derive(Debug)]
pub struct MemoryRoom {
    requests: Arc<Semaphore>,
    answers: Arc<Semaphore>,
}

impl Default for MemoryRoom {
    fn default() -> Self {
        Self {
            requests: Arc::new(Semaphore::new(REQUESTS)),
            answers: Arc::new(Semaphore::new(ANSWERS)),
        }
    }
}

/// So many bytes in kilobytes, rounded up.
fn kilobytes(bytes: u64) -> u32 {
    u32::try_from(bytes.div_ceil(1_000)).unwrap_or(u32::MAX)
}

/// Room for the body of a push. As an axum extractor before the one that reads the body: a body that finds no room is not
/// read.
pub(super) struct PushRoom {
    _place: Option<OwnedSemaphorePermit>,
}

impl FromRequestParts<Arc<AppState>> for PushRoom {
    type Rejection = Refused;

    async fn from_request_parts(parts: &mut Parts, app: &Arc<AppState>) -> Result<Self, Refused> {
        let told = parts.headers.get(CONTENT_LENGTH);
        let told: Option<u64> = told.and_then(|length| length.to_str().ok()?.parse().ok());
        let most = 2 * BATCH_BYTES as u64;
        let bytes = told.unwrap_or(most).min(most);
        if bytes <= SMALL {
            return Ok(Self { _place: None });
        }
        let place = app.room.requests.clone().acquire_many_owned(kilobytes(bytes));
        match timeout(WAIT, place).await {
            Ok(Ok(place)) => Ok(Self { _place: Some(place) }),
            _ => Err(Error::Unavailable.into()),
        }
    }
}

/// Keeps room for a large answer until the client has read it. An answer that finds none is not sent; the client is told to
/// come again.
pub(super) async fn keep(State(app): State<Arc<AppState>>, request: Request, next: Next) -> Response {
    let response = next.run(request).await;
    // Streams, which have no exact length, are read from the disk as they are sent.
    let Some(bytes) = response.body().size_hint().exact().filter(|bytes| *bytes > SMALL) else {
        return response;
    };
    // A buffer that has grown may be nearly twice as large as what is in it.
    let place = app
        .room
        .answers
        .clone()
        .try_acquire_many_owned(kilobytes(2 * bytes));
    match place {
        Ok(place) => in_parts(response, bytes, place),
        Err(_) => Refused(Error::Unavailable).into_response(),
    }
}

/// The same answer, sent in parts. Its place is given up when the last part has been handed on, or the connection is
/// closed.
fn in_parts(response: Response, bytes: u64, place: OwnedSemaphorePermit) -> Response {
    let (mut head, body) = response.into_parts();
    head.headers.insert(CONTENT_LENGTH, HeaderValue::from(bytes));
    let parts = body.into_data_stream().flat_map(move |whole| {
        let _held = &place;
        stream::iter(parts_of(whole))
    });
    Response::from_parts(head, Body::from_stream(parts))
}

fn parts_of(whole: Result<Bytes, axum::Error>) -> Vec<Result<Bytes, axum::Error>> {
    let mut left = match whole {
        Ok(bytes) => bytes,
        Err(error) => return vec![Err(error)],
    };
    let mut parts = Vec::with_capacity(left.len().div_ceil(PART));
    while !left.is_empty() {
        parts.push(Ok(left.split_to(left.len().min(PART))));
    }
    parts
}

#[cfg(test)]
mod tests {
    use axum::body::to_bytes;

    use super::*;

    #[tokio::test]
    async fn an_answer_has_its_place_until_it_is_read_or_given_up() {
        let room = Arc::new(Semaphore::new(10));
        let large: Vec<u8> = (0..=u8::MAX).cycle().take(3 * PART + 1).collect();
        let answer = || {
            let place = room.clone().try_acquire_many_owned(10).unwrap();
            let bytes = large.len() as u64;
            in_parts(Response::new(Body::from(large.clone())), bytes, place)
        };
        let first = answer();
        assert_eq!(first.headers()[CONTENT_LENGTH], "192001");
        assert_eq!(room.available_permits(), 0);
        let read = to_bytes(first.into_body(), usize::MAX).await.unwrap();
        assert_eq!((read == large, room.available_permits()), (true, 10));
        let second = answer();
        let mut parts = second.into_body().into_data_stream();
        assert_eq!(parts.next().await.unwrap().unwrap().len(), PART);
        assert_eq!(room.available_permits(), 0);
        drop(parts);
        assert_eq!(room.available_permits(), 10);
    }

    #[test]
    fn no_request_and_no_answer_is_larger_than_the_room() {
        assert!(kilobytes(2 * BATCH_BYTES as u64) as usize <= REQUESTS / 4);
        assert!(kilobytes(2 * BATCH_BYTES as u64) as usize <= ANSWERS / 4);
        assert_eq!(
            (kilobytes(0), kilobytes(1), kilobytes(u64::MAX)),
            (0, 1, u32::MAX)
        );
    }
}
