//! The security headers of every answer, in one place. The layer is the outermost, so that refusals, preflights of CORS
//! and the answer after a panic carry them too. `tests/http/security_headers.rs` states which route has which.
//!
//! | header | value |
//! | --- | --- |
//! | `Content-Security-Policy`, `Permissions-Policy` | by what the answer is: [`AnswerKind`] |
//! | `X-Content-Type-Options` | `nosniff` |
//! | `Referrer-Policy` | `no-referrer`: the address of a care card is its secret |
//! | `Cross-Origin-Opener-Policy` | `same-origin` |
//! | `Cross-Origin-Resource-Policy` | `same-origin` |
//! | `Strict-Transport-Security` | a year, only if the server is reached over https: [`AppState::https`] |
//!
//! `Cross-Origin-Resource-Policy` does not hinder an app that was loaded from another address: browsers check it only
//! for requests without CORS, such as pictures on somebody else's page, and the app uses the API with CORS.

use std::sync::Arc;

use axum::extract::{Request, State};
use axum::http::HeaderValue;
use axum::middleware::Next;
use axum::response::Response;

use super::AppState;

/// The headers that are the same on every answer.
const ALWAYS: [(&str, &str); 4] = [
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
];

/// For a year, browsers ask this host over https only. Other hosts of its domain may be somebody else's concern.
const HTTPS_ONLY: (&str, &str) = ("strict-transport-security", "max-age=31536000");

/// The content security policy of the app: no inline scripts or styles. It may connect to a server at another address
/// than its own: over https anywhere, over plain http only on the same machine.
const APP_CONTENT: &str = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; \
    connect-src 'self' https: http://localhost:* http://127.0.0.1:*; img-src 'self' blob: data:; \
    font-src data:; media-src 'self' blob:; object-src 'none'; base-uri 'self'; form-action 'none'; frame-ancestors 'none'";
/// The content security policy of care cards: pictures, and a style sheet that contains its typeface.
const CARD_CONTENT: &str = "default-src 'none'; img-src 'self'; style-src 'self'; font-src data:; base-uri 'none'; \
    form-action 'none'; frame-ancestors 'none'";
/// The content security policy of everything that is no page.
const DATA_CONTENT: &str = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// The features of a browser that nothing here uses, as denied in a permissions policy.
macro_rules! unused_features {
    () => {
        "accelerometer=(), bluetooth=(), clipboard-read=(), display-capture=(), encrypted-media=(), fullscreen=(), \
         gamepad=(), geolocation=(), gyroscope=(), hid=(), identity-credentials-get=(), idle-detection=(), \
         keyboard-map=(), local-fonts=(), magnetometer=(), midi=(), otp-credentials=(), payment=(), \
         picture-in-picture=(), publickey-credentials-create=(), publickey-credentials-get=(), serial=(), \
         storage-access=(), sync-xhr=(), usb=(), window-management=(), xr-spatial-tracking=()"
    };
}

/// The permissions policy of the app: for itself, camera and microphone, and what its buttons need (the live picture,
/// copying, sharing, the screen that stays on).
const APP_PERMISSIONS: &str = concat!(
    "camera=(self), microphone=(self), autoplay=(self), clipboard-write=(self), screen-wake-lock=(self), \
     web-share=(self), ",
    unused_features!()
);
/// The permissions policy of everything else.
const NO_PERMISSIONS: &str = concat!(
    "camera=(), microphone=(), autoplay=(), clipboard-write=(), screen-wake-lock=(), web-share=(), ",
    unused_features!()
);

/// What an answer is to a browser. Handlers mark answers with it as an extension; what is not marked is data.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum AnswerKind {
    /// A file of the bench app.
    App,
    /// A care card, or what it shows.
    Card,
    /// Anything else: the API, the health checks, refusals.
    #[default]
    Data,
}

impl AnswerKind {
    /// The headers that differ by kind.
    fn headers(self) -> [(&'static str, &'static str); 2] {
        let (content, permissions) = match self {
            Self::App => (APP_CONTENT, APP_PERMISSIONS),
            Self::Card => (CARD_CONTENT, NO_PERMISSIONS),
            Self::Data => (DATA_CONTENT, NO_PERMISSIONS),
        };
        [
            ("content-security-policy", content),
            ("permissions-policy", permissions),
        ]
    }

    /// The same answer, marked as of this kind.
    pub(super) fn mark(self, mut answer: Response) -> Response {
        answer.extensions_mut().insert(self);
        answer
    }
}

/// Adds the security headers to an answer.
pub(super) async fn add_headers(State(app): State<Arc<AppState>>, request: Request, next: Next) -> Response {
    let mut answer = next.run(request).await;
    let kind = answer
        .extensions()
        .get::<AnswerKind>()
        .copied()
        .unwrap_or_default();
    let https = app.https.then_some(HTTPS_ONLY);
    let headers = answer.headers_mut();
    for (name, value) in ALWAYS.into_iter().chain(kind.headers()).chain(https) {
        headers.insert(name, HeaderValue::from_static(value));
    }
    answer
}
