//! Authentication: finds the device whose token a request carries in `Authorization: Bearer`.

use std::sync::Arc;

use axum::extract::FromRequestParts;
use axum::http::HeaderMap;
use axum::http::header::AUTHORIZATION;
use axum::http::request::Parts;
use shared::log::DeviceId;

use crate::http::{AppState, Refused};
use server_core::error::Error;

/// A joined device. As an axum extractor: a handler that takes one answers only requests with a valid token.
#[derive(Debug, Clone, Copy)]
pub struct Joined(pub DeviceId);

impl FromRequestParts<Arc<AppState>> for Joined {
    type Rejection = Refused;

    async fn from_request_parts(parts: &mut Parts, app: &Arc<AppState>) -> Result<Self, Refused> {
        let device = app.shop.device_of(token(&parts.headers)?).await?;
        app.limits.device(device)?;
        Ok(Self(device))
    }
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
