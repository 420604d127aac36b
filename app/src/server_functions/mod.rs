//! Questions to the shop's server about its devices, for which a device must be online: listing them, and shutting one
//! out.
//!
//! Server functions below `/api/fn`, each with an explicit endpoint that carries its version: a phone may run an
//! older app than its server for weeks. They are authorised like the sync API, by the device's token, and only for a
//! repairer's device: the server refuses a helper's with 403 [`Code::ForRepairer`](shared::sync::Code::ForRepairer).

#[cfg(feature = "ssr")]
mod answers;
mod bearer;
mod refused;

use leptos::prelude::*;
use leptos::server_fn::codec::GetUrl;
use shared::log::DeviceId;
use shared::sync::messages::Device;

#[cfg(feature = "ssr")]
pub use answers::{Pending, ShopAnswers};
pub use bearer::{Bearer, ask_at};
pub use refused::Refusal;

/// Every device that has joined, with its role, in the order of joining.
///
/// # Errors
/// [`Refusal`], also when there was no answer.
#[server(name = AskDevices, prefix = "/api/fn", endpoint = "v1/devices", input = GetUrl, client = Bearer)]
pub async fn devices() -> Result<Vec<Device>, Refusal> {
    answers::here()?.devices().await
}

/// Shuts a device out. The last device of a repairer is not shut out so, but only on the server's command line.
///
/// # Errors
/// [`Refusal`], also when there was no answer.
#[server(name = ShutOut, prefix = "/api/fn", endpoint = "v1/shut-out", client = Bearer)]
pub async fn shut_out(
    /// The device to shut out.
    device: DeviceId,
) -> Result<(), Refusal> {
    answers::here()?.shut_out(device).await
}
