//! `/api/v1/devices`: who has joined, and shutting one out.

use std::sync::Arc;

use axum::extract::State;
use axum::http::StatusCode;
use axum::routing::{delete, get};
use axum::{Json, Router};
use shared::sync::messages::{Device, Devices};
use tracing::info;

use super::AppState;
use super::body::PathPart;
use crate::auth::Joined;
use crate::error::Error;
use crate::store::DeviceRow;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new()
        .route("/devices", get(list))
        .route("/devices/{id}", delete(revoke))
}

async fn list(State(app): State<Arc<AppState>>, _: Joined) -> Result<Json<Devices>, Error> {
    let devices = app.shop.devices().await?.into_iter().map(shown).collect();
    Ok(Json(Devices { devices }))
}

async fn revoke(
    State(app): State<Arc<AppState>>,
    joined: Joined,
    PathPart(id): PathPart<String>,
) -> Result<StatusCode, Error> {
    let id = id.parse().map_err(|_| Error::NotFound)?;
    app.shop.revoke(id).await?;
    info!(device = %id, by = %joined.0, "a device was shut out");
    Ok(StatusCode::NO_CONTENT)
}

/// A device as others see it.
pub(super) fn shown(row: DeviceRow) -> Device {
    let DeviceRow {
        id,
        name,
        letters,
        joined,
        revoked,
        seen,
        seq,
        app,
    } = row;
    Device {
        id,
        name,
        letters,
        joined,
        seen,
        seq,
        revoked,
        app,
    }
}
