//! Joining the shop, and revoking a device.

use shared::log::{DeviceId, UnixMs};
use shared::sync::messages::{JOIN_CODE_MS, JoinAnswer, JoinCode, JoinRequest};

use super::{Shop, join_code};
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{DeviceRow, JoinCodeRow, LogTx, MemberTx, Store, StoreTx, TxMode};

/// The longest device name kept, in characters.
const NAME: usize = 60;
/// How long an expired code is kept, so that it can be refused as expired and not as unknown.
const REMEMBERED_MS: i64 = 24 * 60 * 60 * 1000;

impl<S: Store, P: Photos> Shop<S, P> {
    /// Makes a join code, which one device can use.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn join_code(&self) -> Result<JoinCode, Error> {
        let now = self.world.now();
        let code = join_code::fresh(&*self.world);
        let expires = UnixMs(now.0 + JOIN_CODE_MS);
        let mut tx = self.begin(TxMode::Write).await?;
        tx.forget_join_codes(UnixMs(now.0 - REMEMBERED_MS)).await?;
        let hash = join_code::digest(&join_code::typed(&code));
        tx.put_join_code(&hash, &JoinCodeRow { expires, used: false })
            .await?;
        tx.commit().await?;
        Ok(JoinCode { code, expires })
    }

    /// Joins a device. A device that joins again keeps its letters, and its earlier tokens are revoked.
    ///
    /// # Errors
    /// [`Error::CodeUnknown`], [`Error::CodeExpired`], [`Error::OtherShop`]. The code can be used again then.
    pub async fn join(&self, request: &JoinRequest) -> Result<JoinAnswer, Error> {
        let now = self.world.now();
        let mut tx = self.begin(TxMode::Write).await?;
        let code = join_code::digest(&join_code::typed(&request.code));
        let row = tx
            .join_code(&code)
            .await?
            .filter(|row| !row.used)
            .ok_or(Error::CodeUnknown)?;
        if row.expires < now {
            return Err(Error::CodeExpired);
        }
        let mut counter = tx.counter().await?;
        if request.shop.is_some_and(|shop| shop != counter.shop) {
            return Err(Error::OtherShop);
        }
        let known = tx.device(request.device).await?;
        let letters = match &known {
            Some(device) => device.letters.clone(),
            None => {
                counter.letters_given += 1;
                tx.set_counter(&counter).await?;
                letters(counter.letters_given)
            }
        };
        let token = hex::encode(self.world.bytes::<32>());
        tx.put_device(&DeviceRow {
            id: request.device,
            name: request.name.trim().chars().take(NAME).collect(),
            letters: letters.clone(),
            joined: now,
            revoked: None,
            seen: known.as_ref().map_or(now, |device| device.seen),
            seq: known.as_ref().map_or(0, |device| device.seq),
            app: known.and_then(|device| device.app),
        })
        .await?;
        tx.revoke_tokens(request.device, now).await?;
        tx.add_token(&join_code::digest(&token), request.device).await?;
        tx.put_join_code(&code, &JoinCodeRow { used: true, ..row })
            .await?;
        tx.commit().await?;
        Ok(JoinAnswer {
            token,
            shop: counter.shop,
            letters,
        })
    }

    /// The device to which a token was given.
    ///
    /// # Errors
    /// [`Error::TokenUnknown`], [`Error::TokenRevoked`].
    pub async fn device_of(&self, token: &str) -> Result<DeviceId, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        match tx.token(&join_code::digest(token)).await? {
            None => Err(Error::TokenUnknown),
            Some(row) if row.revoked => Err(Error::TokenRevoked),
            Some(row) => Ok(row.device),
        }
    }

    /// Every device that has ever joined, in the order of joining.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn devices(&self) -> Result<Vec<DeviceRow>, Error> {
        Ok(self.begin(TxMode::Read).await?.devices().await?)
    }

    /// Revokes a device's tokens. What it has not pushed yet can be pushed after it has joined again.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a device that never joined.
    pub async fn revoke(&self, device: DeviceId) -> Result<(), Error> {
        let now = self.world.now();
        let mut tx = self.begin(TxMode::Write).await?;
        let mut row = tx.device(device).await?.ok_or(Error::NotFound)?;
        row.revoked.get_or_insert(now);
        tx.put_device(&row).await?;
        tx.revoke_tokens(device, now).await?;
        Ok(tx.commit().await?)
    }

    /// Notes up to which number a device has read, and the version of its app if it sends one.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn note_seen(&self, device: DeviceId, seq: u64, app: Option<&str>) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        let Some(mut row) = tx.device(device).await? else {
            return Ok(());
        };
        row.seen = self.world.now();
        row.seq = seq;
        row.app = app.map(str::to_owned);
        tx.put_device(&row).await?;
        Ok(tx.commit().await?)
    }
}

/// The letters of the n-th device, from 1: A to Z, then AA, AB and so on.
pub fn letters(mut n: u64) -> String {
    let mut letters = Vec::new();
    while n > 0 {
        n -= 1;
        letters.push(b'A' + u8::try_from(n % 26).unwrap_or(0));
        n /= 26;
    }
    letters.into_iter().rev().map(char::from).collect()
}

#[cfg(test)]
mod tests {
    use super::letters;

    #[test]
    fn letters_run_from_a_to_z_and_on() {
        let given: Vec<_> = [1, 2, 26, 27, 52, 53, 702, 703].map(letters).into();
        assert_eq!(given, ["A", "B", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }
}
