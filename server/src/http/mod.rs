//! The server over HTTP: one file per resource, and one type for all errors.

mod app;
mod blobs;
mod body;
mod body_limit;
mod cards;
mod drain;
mod entries;
mod error;
mod forwarded;
mod guard;
mod health;
mod heavy;
mod history;
mod in_shop;
mod join;
mod kept_aside;
mod openapi;
mod questions;
mod room;
mod security;
mod shut_out;
mod status;

use std::sync::Arc;

pub use app::Assets;
use axum::Router;
use axum::http::header::{AUTHORIZATION, CONTENT_TYPE, ETAG, RETRY_AFTER};
use axum::http::{HeaderValue, Method, header};
use axum::middleware::{from_fn, from_fn_with_state};
pub use error::Refused;
pub use forwarded::TrustedProxies;
pub use health::Readiness;
pub use heavy::HeavyWork;
pub use room::MemoryRoom;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::cors::{Any, CorsLayer};
use tower_http::set_header::SetResponseHeaderLayer;

use crate::limits::RateLimits;
use crate::quota::Quota;
use crate::refusal_log::RefusalLog;
use server_core::error::Error;
use server_core::photos::PhotoFolder;
use server_core::shop::Shop;
use server_core::store::sqlite::SqliteStore;

/// The shop with the database and the photo folder of this server.
pub type Home = Shop<SqliteStore, PhotoFolder>;

/// The state that every handler can use.
pub struct AppState {
    /// The shop.
    pub shop: Home,
    /// The rate limits.
    pub limits: RateLimits,
    /// The log of refused requests.
    pub refusals: RefusalLog,
    /// The reverse proxies that are believed.
    pub proxies: TrustedProxies,
    /// Turns for what takes a processor for long.
    pub heavy: HeavyWork,
    /// Room in memory for large requests and answers.
    pub room: MemoryRoom,
    /// How much the server takes in.
    pub quota: Quota,
    /// The bench app's files.
    pub assets: Assets,
    /// Whether test writes succeed.
    pub readiness: Readiness,
    /// Whether browsers reach the server over https: it serves TLS, or its public address begins with `https:`.
    pub https: bool,
}

/// All routes of the server.
pub fn router(app: Arc<AppState>) -> Router {
    let made_for_one = Router::new()
        .nest("/api/v1", api())
        .merge(cards::router())
        .layer(from_fn_with_state(app.clone(), room::keep));
    Router::new()
        .merge(made_for_one)
        .merge(questions::router())
        .merge(health::router())
        .merge(app::fallback())
        .method_not_allowed_fallback(|| async { Refused(Error::MethodNotAllowed) })
        .layer(body_limit::SMALL)
        .layer(from_fn_with_state(app.clone(), guard::address))
        .layer(from_fn_with_state(app.clone(), forwarded::client))
        .layer(CatchPanicLayer::custom(guard::panicked))
        .layer(from_fn(drain::drain))
        .layer(cors())
        .layer(from_fn_with_state(app.clone(), security::add_headers))
        .with_state(app)
}

/// The sync API. Only the device that asks may keep the responses.
fn api() -> Router<Arc<AppState>> {
    Router::new()
        .merge(join::router())
        .merge(shut_out::router())
        .merge(entries::router())
        .merge(kept_aside::router())
        .merge(in_shop::router())
        .merge(history::router())
        .merge(blobs::router())
        .merge(status::router())
        .merge(openapi::router())
        .layer(SetResponseHeaderLayer::if_not_present(
            header::CACHE_CONTROL,
            HeaderValue::from_static("no-store"),
        ))
}

/// The app may have been loaded from another address, so every origin is allowed. No request is authenticated by
/// cookies.
fn cors() -> CorsLayer {
    CorsLayer::new()
        .allow_origin(Any)
        .allow_methods([Method::GET, Method::POST, Method::PUT, Method::DELETE])
        .allow_headers([AUTHORIZATION, CONTENT_TYPE])
        .expose_headers([RETRY_AFTER, ETAG])
        .max_age(std::time::Duration::from_secs(3600))
}
