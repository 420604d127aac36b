//! How a device gets into the shop.

use app_core::store::memory::now;
use server_core::error::Error;
use shared::log::DeviceId;
use shared::sync::messages::{JoinAnswer, JoinRequest};
use support::memory::MemoryShop;
use uuid::Uuid;

/// Lets a device join, or join again. A device that has lost its token, because it died before it stored the answer or
/// because the server was set back, may still have access in the eyes of the server. Then the shop shuts it out first, as
/// the server asks for.
pub(crate) fn let_in(shop: &MemoryShop, device: DeviceId, of_shop: Option<Uuid>) -> JoinAnswer {
    let request = JoinRequest {
        code: now(shop.join_code()).expect("the server gives a code").code,
        device,
        name: "phone".to_owned(),
        shop: of_shop,
    };
    let mut answer = now(shop.join(&request));
    if matches!(answer, Err(Error::DeviceTaken)) {
        now(shop.revoke(device)).expect("a device that has access can be shut out");
        answer = now(shop.join(&request));
    }
    answer.expect("joining, and joining again, is refused for no other reason")
}
