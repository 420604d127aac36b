//! Health checks, for people and for monitoring. The server is live when it answers at all, and ready when it can write
//! what devices send.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use axum::extract::State;
use axum::http::StatusCode;
use axum::http::header::CACHE_CONTROL;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Json, Router};
use serde::Serialize;
use tokio::sync::Mutex;
use tokio::time::Instant;

use super::AppState;
use super::error::note;
use server_core::error::Error;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new()
        .route("/health", get(health))
        .route("/health/live", get(live))
        .route("/health/ready", get(ready))
}

/// How long a successful test write is reported before another one is made.
const GOOD_FOR: Duration = Duration::from_secs(1);

/// The state of a part of the server.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
enum Word {
    /// A test write has just succeeded.
    Ok,
    /// Its disk is full.
    DiskFull,
    /// No test write could be made in time.
    Busy,
    /// The test write failed; the log has the error.
    Failed,
}

impl Word {
    fn of(tried: &Result<(), Error>) -> Self {
        match tried {
            Ok(()) => Self::Ok,
            Err(Error::DiskFull) => Self::DiskFull,
            Err(Error::Unavailable) => Self::Busy,
            Err(error) => {
                note(error);
                Self::Failed
            }
        }
    }
}

/// Whether the server is ready, and if not, which part is not.
#[derive(Debug, Clone, Copy, Serialize)]
struct ReadyCheck {
    ready: bool,
    database: Word,
    photos: Word,
}

/// Makes test writes, no more often than needed.
#[derive(Debug, Default)]
pub struct Readiness {
    last: Mutex<Option<(Instant, ReadyCheck)>>,
    doubted: AtomicBool,
}

impl Readiness {
    /// Notes that a write has failed: the next check makes a test write even if the last one succeeded a moment ago.
    pub(super) fn doubt(&self) {
        self.doubted.store(true, Ordering::Relaxed);
    }

    /// The result of a test write, or of the last one if it is recent. Checks that arrive during a test write share its
    /// result.
    async fn of(&self, app: &AppState) -> ReadyCheck {
        let asked = Instant::now();
        let mut last = self.last.lock().await;
        if let Some((when, known)) = *last {
            let good = known.ready && when + GOOD_FOR > asked && !self.doubted.load(Ordering::Relaxed);
            if good || when > asked {
                return known;
            }
        }
        let began = Instant::now();
        self.doubted.store(false, Ordering::Relaxed);
        let tried = app.shop.try_writes().await;
        // What the server itself could still write, devices may not.
        let with_room = |tried: Result<(), Error>| tried.and_then(|()| app.quota.disk());
        let (database, photos) = (
            Word::of(&with_room(tried.database)),
            Word::of(&with_room(tried.photos)),
        );
        let ready = database == Word::Ok && photos == Word::Ok;
        let known = ReadyCheck {
            ready,
            database,
            photos,
        };
        *last = Some((began, known));
        known
    }
}

/// `GET /health`: `ok` if the server is ready, else the state of each part.
async fn health(State(app): State<Arc<AppState>>) -> Response {
    let known = app.readiness.of(&app).await;
    if known.ready {
        return fresh("ok\n");
    }
    unready(known)
}

/// `GET /health/live`: the process answers. It does not test the disk: restarting the server would not free space.
async fn live() -> Response {
    #[derive(Serialize)]
    struct Live {
        live: bool,
    }
    fresh(Json(Live { live: true }))
}

/// `GET /health/ready`: whether a write works, and if not, of which part.
async fn ready(State(app): State<Arc<AppState>>) -> Response {
    let known = app.readiness.of(&app).await;
    if known.ready {
        fresh(Json(known))
    } else {
        unready(known)
    }
}

fn unready(known: ReadyCheck) -> Response {
    (StatusCode::SERVICE_UNAVAILABLE, fresh(Json(known))).into_response()
}

fn fresh(answer: impl IntoResponse) -> Response {
    ([(CACHE_CONTROL, "no-store")], answer).into_response()
}
