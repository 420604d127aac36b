//! Authentication: finds the device whose token a request carries in `Authorization: Bearer`.

use std::sync::Arc;

use axum::extract::FromRequestParts;
use axum::http::header::AUTHORIZATION;
use axum::http::request::Parts;
use shared::log::DeviceId;

use crate::error::Error;
use crate::http::AppState;

/// A joined device. As an axum extractor: a handler that takes one answers only requests with a valid token.
#[derive(Debug, Clone, Copy)]
pub struct Joined(pub DeviceId);

impl FromRequestParts<Arc<AppState>> for Joined {
    type Rejection = Error;

    async fn from_request_parts(parts: &mut Parts, app: &Arc<AppState>) -> Result<Self, Error> {
        let header = parts.headers.get(AUTHORIZATION).ok_or(Error::TokenMissing)?;
        let text = header.to_str().map_err(|_| Error::TokenUnknown)?;
        let (scheme, token) = text.split_once(' ').ok_or(Error::TokenMissing)?;
        if !scheme.eq_ignore_ascii_case("bearer") {
            return Err(Error::TokenMissing);
        }
        let device = app.shop.device_of(token.trim()).await?;
        app.limits.device(device)?;
        Ok(Self(device))
    }
}
