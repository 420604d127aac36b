//! `POST /api/v1/join` and `POST /api/v1/join-codes`: how a device becomes one of the shop's.

use std::net::SocketAddr;
use std::sync::Arc;

use axum::extract::{ConnectInfo, State};
use axum::http::{HeaderMap, StatusCode};
use axum::routing::post;
use axum::{Json, Router};
use shared::log::body::Role;
use shared::sync::messages::{JoinAnswer, JoinCode, JoinCodeRequest, JoinRequest};
use tracing::info;

use super::body::{JsonBody, JsonText};
use super::error::Refused;
use super::{AppState, body_limit};
use crate::auth::{self, Repairer};
use server_core::error::Error;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new()
        .route("/join", post(join).layer(body_limit::JOIN))
        .route("/join-codes", post(code).layer(body_limit::SMALL))
}

/// Needs no token, like health checks, cards and `shut-out`. The rate limit by address protects it against guessing. A
/// device that joins again while it has access sends its token: nobody else can join under its id.
async fn join(
    State(app): State<Arc<AppState>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    headers: HeaderMap,
    JsonBody(request): JsonBody<JoinRequest>,
) -> Result<Json<JoinAnswer>, Refused> {
    app.limits.join(peer.ip())?;
    let joined = app.shop.join_with(&request, auth::token(&headers).ok()).await;
    let answer = joined.inspect_err(|error| app.refusals.join_code(peer.ip(), error))?;
    info!(device = %request.device, letters = answer.letters, role = %answer.role, "a device joined");
    Ok(Json(answer))
}

async fn code(
    State(app): State<Arc<AppState>>,
    Repairer(member): Repairer,
    JsonText(body): JsonText,
) -> Result<(StatusCode, Json<JoinCode>), Refused> {
    let role = asked_role(&body)?;
    let code = app.shop.join_code_of(&member, role).await?;
    Ok((StatusCode::CREATED, Json(code)))
}

/// The role for which a code is asked. Apps older than roles send no body, which asks for a repairer's, and so does
/// `null`.
fn asked_role(body: &[u8]) -> Result<Role, Error> {
    if body.trim_ascii().is_empty() {
        return Ok(Role::Repairer);
    }
    let asked: Option<JoinCodeRequest> = serde_json::from_slice(body).map_err(|_| Error::Malformed)?;
    match asked.map_or(Role::Repairer, |asked| asked.role) {
        // A device of a role that this server does not know could do nothing.
        Role::Other(_) => Err(Error::Malformed),
        known => Ok(known),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_a_repairers_unless_another_known_role_is_asked_for() {
        let asked = |body: &str| asked_role(body.as_bytes());
        for body in ["", " \n", "null", r#"{"role":"repairer"}"#] {
            assert_eq!(asked(body).unwrap(), Role::Repairer, "{body}");
        }
        assert_eq!(asked(r#"{"role":"helper"}"#).unwrap(), Role::Helper);
        for body in [
            "{",
            "{}",
            "helper",
            r#"{"role":"owner"}"#,
            r#"{"role":"helper","for":"Ada"}"#,
        ] {
            assert!(matches!(asked(body), Err(Error::Malformed)), "{body}");
        }
    }
}
