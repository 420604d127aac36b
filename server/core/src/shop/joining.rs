//! Join codes, and joining with one.

use shared::log::body::Role;
use shared::log::{DeviceId, UnixMs};
use shared::sync::messages::{JOIN_CODE_MS, JoinAnswer, JoinCode, JoinRequest};

use super::members::{Member, check_repairer, has_expired, has_repairer};
use super::revoked::revoke_tokens;
use super::{Shop, join_code};
use crate::error::Error;
use crate::ledger::Why;
use crate::photos::Photos;
use crate::store::{DeviceRow, JoinCodeRow, LogTx, MemberTx, SecretDigest, Store, StoreTx, TokenRow, TxMode};

/// The longest device name kept, in characters.
const NAME: usize = 60;
/// How long an expired code is kept, so that it can be refused as expired and not as unknown.
const REMEMBERED_MS: i64 = 24 * 60 * 60 * 1000;

impl<S: Store, P: Photos> Shop<S, P> {
    /// Makes a join code, which one device can use for ten minutes to join as this role.
    ///
    /// # Errors
    /// [`Error::LastRepairer`] for a helper's code while no repairer's device has access, [`Error::Malformed`] for a role
    /// that this version does not know, or a failure of the database.
    pub async fn join_code(&self, role: Role) -> Result<JoinCode, Error> {
        self.mint(None, role).await
    }

    /// Makes a join code for a repairer's device that asks for one. Shutting that device out voids the code.
    ///
    /// # Errors
    /// As [`Shop::join_code`]; [`Error::ForRepairer`] for a helper's device, [`Error::TokenRevoked`] if the device was shut
    /// out meanwhile.
    pub async fn join_code_of(&self, member: &Member, role: Role) -> Result<JoinCode, Error> {
        self.mint(Some(member), role).await
    }

    async fn mint(&self, minted_by: Option<&Member>, role: Role) -> Result<JoinCode, Error> {
        if matches!(role, Role::Other(_)) {
            return Err(Error::Malformed);
        }
        let now = self.world.now();
        let code = join_code::fresh(&*self.world);
        let expires = UnixMs(now.0.saturating_add(JOIN_CODE_MS));
        let mut tx = self.begin(TxMode::Write).await?;
        if let Some(member) = minted_by {
            check_repairer(&mut tx, member).await?;
        }
        if role != Role::Repairer && !has_repairer(&mut tx, None).await? {
            return Err(Error::LastRepairer);
        }
        tx.forget_join_codes(UnixMs(now.0.saturating_sub(REMEMBERED_MS)))
            .await?;
        let hash = join_code::digest(&join_code::typed(&code));
        let row = JoinCodeRow {
            expires,
            used: false,
            used_by: None,
            minted_by: minted_by.map(|member| member.device),
            role: role.clone(),
        };
        tx.put_join_code(&hash, &row).await?;
        tx.commit().await?;
        Ok(JoinCode { code, expires, role })
    }

    /// Joins a device that sends no token with its request; see [`Shop::join_with`].
    ///
    /// # Errors
    /// As [`Shop::join_with`].
    pub async fn join(&self, request: &JoinRequest) -> Result<JoinAnswer, Error> {
        self.join_with(request, None).await
    }

    /// Joins a device as the role of its code. `token` is the one that the request carries, if it does. A device that joins
    /// again keeps its letters, and its earlier tokens are revoked. If one of them still opens the shop, only the device
    /// that has it can join again under the same id.
    ///
    /// # Errors
    /// [`Error::CodeUnknown`], [`Error::CodeExpired`], [`Error::OtherShop`], [`Error::DeviceTaken`],
    /// [`Error::LastRepairer`]. The code can be used again then.
    pub async fn join_with(&self, request: &JoinRequest, token: Option<&str>) -> Result<JoinAnswer, Error> {
        let now = self.world.now();
        let mut tx = self.begin(TxMode::Write).await?;
        let (code, row) = usable_code(&mut tx, request, token, now).await?;
        let mut counter = tx.counter().await?;
        if request.shop.is_some_and(|shop| shop != counter.shop) {
            return Err(Error::OtherShop);
        }
        if row.role != Role::Repairer && !has_repairer(&mut tx, Some(request.device)).await? {
            return Err(Error::LastRepairer);
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
        let role = row.role.clone();
        tx.put_device(&joined(request, letters.clone(), role.clone(), known, now))
            .await?;
        let token = hex::encode(self.world.bytes::<32>());
        let revoked = revoke_tokens(&mut tx, request.device, now, Why::Replaced).await?;
        tx.put_token(&join_code::digest(&token), &new_token(request.device, now))
            .await?;
        let used = JoinCodeRow {
            used: true,
            used_by: Some(request.device),
            ..row
        };
        tx.put_join_code(&code, &used).await?;
        self.book.note(&revoked)?;
        tx.commit().await?;
        Ok(JoinAnswer {
            token,
            shop: counter.shop,
            letters,
            role,
        })
    }
}

/// Whether a join code has not expired at this time of the server's clock. If the clock was set back since the code was
/// made, the code is good for longer, but never for more than twice its time: otherwise one that was made while the
/// clock was years ahead would be good for years.
fn is_good(code: &JoinCodeRow, now: UnixMs) -> bool {
    let made = code.expires.0.saturating_sub(JOIN_CODE_MS);
    (made.saturating_sub(JOIN_CODE_MS)..=code.expires.0).contains(&now.0)
}

/// The join code of a request, if the device may join with it. `token` is the one that the request carries, if it does.
async fn usable_code<T: StoreTx>(
    tx: &mut T,
    request: &JoinRequest,
    token: Option<&str>,
    now: UnixMs,
) -> Result<(SecretDigest, JoinCodeRow), Error> {
    let code = join_code::digest(&join_code::typed(&request.code));
    let valid = valid_token(tx, request.device, now).await?;
    let row = tx
        .join_code(&code)
        .await?
        .filter(|row| !row.used || asks_again(row, request.device, valid))
        .ok_or(Error::CodeUnknown)?;
    if !is_good(&row, now) {
        return Err(Error::CodeExpired);
    }
    let proof = token.map(join_code::digest);
    if !row.used && valid.is_some_and(|(hash, _)| proof != Some(hash)) {
        return Err(Error::DeviceTaken);
    }
    Ok((code, row))
}

/// The token of a device that opens the shop now, if there is one. Joining revokes the others, so there is at most one. A
/// device of which what is noted is damaged has none.
async fn valid_token<T: StoreTx>(
    tx: &mut T,
    device: DeviceId,
    now: UnixMs,
) -> Result<Option<(SecretDigest, TokenRow)>, Error> {
    if tx.device(device).await?.is_none() {
        return Ok(None);
    }
    let tokens = tx.tokens_of(device).await?;
    let is_valid =
        |(_, token): &(SecretDigest, TokenRow)| token.revoked.is_none() && !has_expired(token, now);
    Ok(tokens.into_iter().find(is_valid))
}

/// Whether a device asks again with the code with which it has just joined, because the answer was lost on its way: then
/// no request has come with its token yet.
fn asks_again(code: &JoinCodeRow, device: DeviceId, valid: Option<(SecretDigest, TokenRow)>) -> bool {
    code.used_by == Some(device) && valid.is_some_and(|(_, token)| token.seen.is_none())
}

/// The row of a device that joins. `known` is the one that it had.
fn joined(
    request: &JoinRequest,
    letters: String,
    role: Role,
    known: Option<DeviceRow>,
    now: UnixMs,
) -> DeviceRow {
    DeviceRow {
        id: request.device,
        name: request.name.trim().chars().take(NAME).collect(),
        letters,
        joined: now,
        revoked: None,
        seen: known.as_ref().map_or(now, |device| device.seen),
        seq: known.as_ref().map_or(0, |device| device.seq),
        app: known.and_then(|device| device.app),
        role,
    }
}

fn new_token(device: DeviceId, now: UnixMs) -> TokenRow {
    TokenRow {
        device,
        given: now,
        seen: None,
        revoked: None,
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
