//! How a device gets into the shop.

use app_core::store::memory::now;
use server_core::error::Error;
use shared::log::DeviceId;
use shared::log::body::Role;
use shared::sync::messages::{JoinAnswer, JoinRequest};
use support::memory::MemoryShop;
use uuid::Uuid;

/// Lets a device join, or join again, as this role. While no other repairer's device has access, it can join only as a
/// repairer's.
pub(crate) fn let_in(shop: &MemoryShop, device: DeviceId, of_shop: Option<Uuid>, role: &Role) -> JoinAnswer {
    let mut answer = join(shop, device, of_shop, role);
    if matches!(answer, Err(Error::LastRepairer)) && *role == Role::Helper {
        answer = join(shop, device, of_shop, &Role::Repairer);
    }
    answer.expect("joining, and joining again, is refused for no other reason")
}

/// A device that has lost its token, because it died before it stored the answer or because the server was set back, may
/// still have access in the eyes of the server. Then the shop shuts it out first, as the server asks for.
fn join(
    shop: &MemoryShop,
    device: DeviceId,
    of_shop: Option<Uuid>,
    role: &Role,
) -> Result<JoinAnswer, Error> {
    let request = JoinRequest {
        code: now(shop.join_code(role.clone()))?.code,
        device,
        name: "phone".to_owned(),
        shop: of_shop,
    };
    let answer = now(shop.join(&request));
    if !matches!(answer, Err(Error::DeviceTaken)) {
        return answer;
    }
    now(shop.revoke(device)).expect("a device that has access can be shut out");
    now(shop.join(&request))
}
