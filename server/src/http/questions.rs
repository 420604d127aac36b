//! `/api/fn/…`: the app's server functions, open to the devices of repairers only.

use std::sync::{Arc, OnceLock};

use app::server_functions::{AskDevices, Pending, Refusal, ShopAnswers, ShutOut};
use axum::Router;
use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::StatusCode;
use axum::http::request::Parts;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use leptos::prelude::provide_context;
use leptos::server_fn::axum::{register_explicit, server_fn_paths};
use leptos_axum::handle_server_fns_with_context;
use shared::log::DeviceId;
use shared::sync::messages::Device;
use tracing::info;

use super::body::WholeBody;
use super::error::{Refused, note, status_code};
use super::{AppState, body_limit};
use crate::auth::Repairer;
use server_core::error::Error;
use server_core::shop::Member;
use server_core::store::DeviceRow;

pub(super) fn router() -> Router<Arc<AppState>> {
    register_explicit::<AskDevices>();
    register_explicit::<ShutOut>();
    Router::new().route(
        "/api/fn/{*question}",
        get(answer).post(answer).layer(body_limit::SMALL),
    )
}

/// The body is read before the framework gets the request: the framework would answer one that is too large in its own
/// words.
async fn answer(
    State(app): State<Arc<AppState>>,
    Repairer(by): Repairer,
    parts: Parts,
    WholeBody(body): WholeBody,
) -> Result<Response, Refused> {
    let known = server_fn_paths().any(|(path, method)| path == parts.uri.path() && method == parts.method);
    if !known {
        return Err(Error::NotFound.into());
    }
    let request = Request::from_parts(parts, Body::from(body));
    let failed = Arc::new(OnceLock::new());
    let answers: Arc<dyn ShopAnswers> = Arc::new(Answering {
        app,
        by,
        failed: failed.clone(),
    });
    let context = move || provide_context(answers.clone());
    let mut response = handle_server_fns_with_context(context, request)
        .await
        .into_response();
    // The framework answers every refusal with 500. Use the status of our own errors; without one, the framework could
    // not read the request.
    if response.status().is_server_error() {
        *response.status_mut() = failed.get().copied().unwrap_or(StatusCode::BAD_REQUEST);
    }
    Ok(response)
}

/// Answers one call of a server function by one device of a repairer.
#[derive(Clone)]
struct Answering {
    app: Arc<AppState>,
    by: Member,
    failed: Arc<OnceLock<StatusCode>>,
}

impl Answering {
    fn refused(&self, error: &Error) -> Refusal {
        note(error);
        // Set once: a call has at most one refusal.
        let _ = self.failed.set(status_code(error));
        Refusal(error.problem())
    }
}

impl ShopAnswers for Answering {
    fn devices(&self) -> Pending<Vec<Device>> {
        let this = self.clone();
        Box::pin(async move {
            let devices = this
                .app
                .shop
                .devices()
                .await
                .map_err(|error| this.refused(&error))?;
            Ok(devices.into_iter().map(shown).collect())
        })
    }

    fn shut_out(&self, device: DeviceId) -> Pending<()> {
        let this = self.clone();
        Box::pin(async move {
            this.app
                .shop
                .shut_out(&this.by, device)
                .await
                .map_err(|error| this.refused(&error))?;
            info!(%device, by = %this.by.device, "a device was shut out");
            Ok(())
        })
    }
}

/// A device as the app lists it.
fn shown(row: DeviceRow) -> Device {
    let DeviceRow {
        id,
        name,
        letters,
        joined,
        revoked,
        seen,
        seq,
        app,
        role,
    } = row;
    Device {
        id,
        name,
        letters,
        joined,
        seen,
        seq,
        revoked,
        role,
        app,
    }
}
