//! Tokens over months, while the server's clock is wrong, and when an older database comes back.

use server_core::error::Error;
use server_core::shop::TOKEN_MS;
use shared::log::UnixMs;
use shared::log::body::Role;
use shared::sync::messages::{JoinRequest, ShutOutQuestion};
use support::memory::{Household, MemoryShop};
use support::sample::Pen;
use uuid::Uuid;

/// A recent time in ms since 1970.
const NOW: i64 = 1_790_000_000_000;
/// How long a token is good after a request.
const GOOD_MS: i64 = TOKEN_MS as i64;
const HOUR_MS: i64 = 3_600_000;

/// Joins the device with this number. Returns its token.
async fn join(shop: &MemoryShop, number: u32) -> Result<String, Error> {
    join_with(shop, number, None).await
}

/// Joins the device with this number, which has this token from before. Returns its new one.
async fn join_with(shop: &MemoryShop, number: u32, token: Option<&str>) -> Result<String, Error> {
    let request = JoinRequest {
        code: shop.join_code(Role::Repairer).await?.code,
        device: Pen::new(number).device,
        name: "Bench phone".to_owned(),
        shop: None,
    };
    Ok(shop.join_with(&request, token).await?.token)
}

/// A shop whose clock shows [`NOW`].
async fn shop() -> (Household, MemoryShop) {
    let household = Household::new(1);
    household.world.set(UnixMs(NOW));
    let shop = household.open().await;
    (household, shop)
}

#[tokio::test]
async fn every_request_keeps_a_token_for_another_half_year() {
    let (household, shop) = shop().await;
    let token = join(&shop, 1).await.unwrap();
    for _ in 0..4 {
        household.world.advance(GOOD_MS);
        assert_eq!(shop.member_of(&token).await.unwrap().device, Pen::new(1).device);
    }
    household.world.advance(GOOD_MS + 1);
    assert!(matches!(shop.member_of(&token).await, Err(Error::TokenExpired)));
    // It has ended for good, whatever the clock says.
    household.world.advance(-GOOD_MS);
    assert!(matches!(shop.member_of(&token).await, Err(Error::TokenExpired)));
    // Its device is free to join again.
    let again = join(&shop, 1).await.unwrap();
    assert!(shop.member_of(&again).await.is_ok());
}

#[tokio::test]
async fn a_token_that_was_never_used_ends_too_and_frees_its_device() {
    let (household, shop) = shop().await;
    let token = join(&shop, 1).await.unwrap();
    household.world.advance(GOOD_MS);
    assert!(matches!(join(&shop, 1).await, Err(Error::DeviceTaken)));
    household.world.advance(1);
    assert!(join(&shop, 1).await.is_ok());
    assert!(matches!(shop.member_of(&token).await, Err(Error::TokenExpired)));
}

/// A request is noted at most once an hour, so a token may end an hour early, and not earlier.
#[tokio::test]
async fn a_token_ends_at_most_an_hour_early() {
    let (household, shop) = shop().await;
    let token = join(&shop, 1).await.unwrap();
    for minutes in [0, 59, 61] {
        household.world.set(UnixMs(NOW + minutes * 60_000));
        assert!(shop.member_of(&token).await.is_ok());
    }
    household.world.set(UnixMs(NOW + HOUR_MS + GOOD_MS));
    assert!(shop.member_of(&token).await.is_ok());
}

#[tokio::test]
async fn a_clock_that_was_years_ahead_keeps_no_token_for_years() {
    let (household, shop) = shop().await;
    household.world.set(UnixMs(NOW + 10 * GOOD_MS));
    let [silent, working] = [join(&shop, 1).await.unwrap(), join(&shop, 2).await.unwrap()];
    assert!(shop.member_of(&silent).await.is_ok() && shop.member_of(&working).await.is_ok());
    // Set back by less than half a year: the next request is noted at the right time.
    household.world.set(UnixMs(NOW + 9 * GOOD_MS + HOUR_MS));
    assert!(shop.member_of(&working).await.is_ok());
    household.world.set(UnixMs(NOW + 8 * GOOD_MS + 2 * HOUR_MS));
    assert!(shop.member_of(&working).await.is_ok());
    assert!(matches!(shop.member_of(&silent).await, Err(Error::TokenExpired)));
}

#[tokio::test]
async fn an_older_database_brings_no_token_back() {
    let (household, shop) = shop().await;
    let [stolen, replaced] = [join(&shop, 1).await.unwrap(), join(&shop, 2).await.unwrap()];
    let older = household.store.snapshot();
    shop.revoke(Pen::new(1).device).await.unwrap();
    join_with(&shop, 2, Some(&replaced)).await.unwrap();

    household.store.roll_back(&older);
    let shop = household.open().await;
    for token in [&stolen, &replaced] {
        assert!(matches!(shop.member_of(token).await, Err(Error::TokenRevoked)));
    }
    // The phone that had joined again holds a token which this database does not know. It can join all the same.
    assert!(join(&shop, 2).await.is_ok());
    assert!(join(&shop, 1).await.is_ok());
}

/// Only a device that somebody has shut out gets the proof of it, with which it deletes what the server has.
#[tokio::test]
async fn an_older_database_shuts_no_device_out_whose_token_was_replaced_or_has_expired() {
    let (household, shop) = shop().await;
    let mut tokens = Vec::new();
    for number in 1..=3 {
        tokens.push(join(&shop, number).await.unwrap());
    }
    let older = household.store.snapshot();
    shop.revoke(Pen::new(1).device).await.unwrap();
    join_with(&shop, 2, Some(&tokens[1])).await.unwrap();
    household.world.advance(GOOD_MS + 1);
    assert!(matches!(
        shop.member_of(&tokens[2]).await,
        Err(Error::TokenExpired)
    ));

    household.store.roll_back(&older);
    // A second start finds it as the first one has left it.
    for _ in 0..2 {
        let shop = household.open().await;
        for token in &tokens {
            let refused = shop.member_of(token).await;
            assert!(matches!(refused, Err(Error::TokenRevoked | Error::TokenExpired)));
        }
        let shut_out: Vec<_> = shop.devices().await.unwrap();
        let shut_out = shut_out.iter().map(|row| row.revoked.is_some());
        assert_eq!(shut_out.collect::<Vec<_>>(), [true, false, false]);
        let cursor = shop.pull(&Role::Repairer, None, None).await.unwrap().cursor;
        for (number, proofs) in [(1, 1), (2, 0), (3, 0)] {
            let question = ShutOutQuestion {
                device: Pen::new(number).device,
                nonce: Uuid::from_u128(5),
                cursor,
                pushed: None,
            };
            let proved = shop.shut_out_proof(&question).await;
            let given = proved.map_or(0, |proof| proof.proofs.len());
            assert_eq!(given, proofs, "device {number}");
        }
    }
}
