//! Authentication: finds the device whose token a request carries in `Authorization: Bearer`, and its role.

use std::sync::Arc;

use axum::extract::FromRequestParts;
use axum::http::HeaderMap;
use axum::http::header::AUTHORIZATION;
use axum::http::request::Parts;
use shared::log::body::Role;

use crate::http::{AppState, Refused};
use server_core::error::Error;
use server_core::shop::Member;

/// A joined device and its role. As an axum extractor: a handler that takes one answers only requests with a valid token.
#[derive(Debug, Clone)]
pub struct Joined(pub Member);

impl FromRequestParts<Arc<AppState>> for Joined {
    type Rejection = Refused;

    async fn from_request_parts(parts: &mut Parts, app: &Arc<AppState>) -> Result<Self, Refused> {
        let member = match member(&parts.headers, app).await {
            Ok(member) => member,
            Err(error) => {
                app.refusals.token(parts, &error);
                return Err(error.into());
            }
        };
        app.limits.device(member.device)?;
        Ok(Self(member))
    }
}

/// A joined device of a repairer. As an axum extractor: a handler that takes one refuses every other device with
/// [`Error::ForRepairer`], before it reads the request's body.
#[derive(Debug, Clone)]
pub struct Repairer(pub Member);

impl FromRequestParts<Arc<AppState>> for Repairer {
    type Rejection = Refused;

    async fn from_request_parts(parts: &mut Parts, app: &Arc<AppState>) -> Result<Self, Refused> {
        let Joined(member) = Joined::from_request_parts(parts, app).await?;
        match member.role {
            Role::Repairer => Ok(Self(member)),
            Role::Helper | Role::Other(_) => {
                app.refusals.role(parts, member.device);
                Err(Error::ForRepairer.into())
            }
        }
    }
}

/// The device whose token a request carries.
async fn member(headers: &HeaderMap, app: &AppState) -> Result<Member, Error> {
    app.shop.member_of(token(headers)?).await
}

/// The token that a request carries, whether it is valid or not.
pub(crate) fn token(headers: &HeaderMap) -> Result<&str, Error> {
    let header = headers.get(AUTHORIZATION).ok_or(Error::TokenMissing)?;
    let text = header.to_str().map_err(|_| Error::TokenUnknown)?;
    let (scheme, token) = text.split_once(' ').ok_or(Error::TokenMissing)?;
    if scheme.eq_ignore_ascii_case("bearer") {
        Ok(token.trim())
    } else {
        Err(Error::TokenMissing)
    }
}
