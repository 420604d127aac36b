//! Join codes while the server's clock is wrong, is set back, or jumps forward.

use server_core::error::Error;
use shared::log::UnixMs;
use shared::log::body::Role;
use shared::sync::messages::{JOIN_CODE_MS, JoinRequest};
use support::memory::Household;
use support::sample::Pen;

/// A recent time in ms since 1970.
const NOW: i64 = 1_790_000_000_000;
/// Ten years in milliseconds.
const YEARS: i64 = 10 * 365 * 24 * 3600 * 1000;

/// Makes a code when the server's clock shows `made`, and joins with it when the clock shows `used`.
async fn join(made: i64, used: i64) -> Result<(), Error> {
    let household = Household::new(1);
    household.world.set(UnixMs(made));
    let shop = household.open().await;
    let code = shop.join_code(Role::Repairer).await.unwrap().code;
    household.world.set(UnixMs(used));
    let request = JoinRequest {
        code,
        device: Pen::new(1).device,
        name: "Bench phone".to_owned(),
        shop: None,
    };
    shop.join(&request).await.map(drop)
}

#[tokio::test]
async fn a_code_is_good_for_ten_minutes_and_as_much_longer_as_the_clock_was_set_back() {
    for (made, used) in [
        (NOW, NOW),
        (NOW, NOW + JOIN_CODE_MS),
        (NOW, NOW - JOIN_CODE_MS),
        // A clock before 1970 counts as 1970.
        (0, 0),
        (0, JOIN_CODE_MS),
        // Not even the ends of what a number can hold are too much.
        (i64::MAX, i64::MAX),
        (i64::MIN, i64::MIN),
    ] {
        assert!(join(made, used).await.is_ok(), "made at {made}, used at {used}");
    }
}

#[tokio::test]
async fn no_jump_of_the_clock_keeps_a_code_for_longer() {
    for (made, used) in [
        (NOW, NOW + JOIN_CODE_MS + 1),
        (NOW, NOW - JOIN_CODE_MS - 1),
        (NOW + YEARS, NOW),
        (NOW, NOW + YEARS),
        (NOW, 0),
        (0, NOW),
    ] {
        let joined = join(made, used).await;
        assert!(
            matches!(joined, Err(Error::CodeExpired)),
            "made at {made}, used at {used}: {joined:?}"
        );
    }
}
