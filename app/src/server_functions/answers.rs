//! Who answers, on the server.

use std::future::Future;
use std::pin::Pin;
use std::sync::Arc;

use leptos::prelude::use_context;
use shared::log::DeviceId;
use shared::sync::messages::Device;
use shared::sync::{Code, Problem};

use super::Refusal;

/// The future of an answer.
pub type Pending<T> = Pin<Box<dyn Future<Output = Result<T, Refusal>> + Send>>;

/// What the server provides as `Arc<dyn ShopAnswers>` in the context of each question of a repairer's device.
pub trait ShopAnswers: Send + Sync {
    /// Every device that has joined.
    fn devices(&self) -> Pending<Vec<Device>>;
    /// Shuts a device out, unless it is the last one of a repairer.
    fn shut_out(&self, device: DeviceId) -> Pending<()>;
}

/// The implementation provided for this question.
pub(super) fn here() -> Result<Arc<dyn ShopAnswers>, Refusal> {
    use_context().ok_or_else(|| {
        let message = words::refusals::server_failed().to_owned();
        Refusal(Problem {
            code: Code::Internal,
            message,
            retry_after: None,
        })
    })
}
