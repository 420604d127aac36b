//! Operations on devices, their tokens, and the codes with which they join.

use std::future::Future;

use shared::log::body::Role;
use shared::log::{DeviceId, UnixMs};

use super::DatabaseError;

/// The SHA-256 of a secret; the secret itself is never stored.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct SecretDigest(pub [u8; 32]);

impl std::fmt::Debug for SecretDigest {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Digest(…)")
    }
}

/// A device that has joined.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DeviceRow {
    /// The id that the device has given itself.
    pub id: DeviceId,
    /// Its name, as people have typed it.
    pub name: String,
    /// The letters with which its tag numbers begin.
    pub letters: String,
    /// When it last joined.
    pub joined: UnixMs,
    /// When it was revoked, if it was.
    pub revoked: Option<UnixMs>,
    /// When it last pulled.
    pub seen: UnixMs,
    /// The number up to which it had read then.
    pub seq: u64,
    /// The version of its app, if it sends one.
    pub app: Option<String>,
    /// The role as which it last joined.
    pub role: Role,
}

/// What a token stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TokenRow {
    /// The device to which it was given.
    pub device: DeviceId,
    /// When it was given out; 0 if an earlier version did that.
    pub given: UnixMs,
    /// When a request last came with it, to within an hour; `None` if none ever did.
    pub seen: Option<UnixMs>,
    /// When it was revoked, if it was.
    pub revoked: Option<UnixMs>,
}

/// The state of a join code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JoinCodeRow {
    /// When it expires.
    pub expires: UnixMs,
    /// Whether a device has joined with it.
    pub used: bool,
    /// The device that has joined with it; `None` also if an earlier version noted only that it was used.
    pub used_by: Option<DeviceId>,
    /// The device that asked for it; `None` for a code of the command line or of an earlier version.
    pub minted_by: Option<DeviceId>,
    /// The role as which a device joins with it.
    pub role: Role,
}

/// Operations on devices, tokens and join codes. One that is damaged is left out, as if it had never been there: it lets
/// nobody in. `waxend check` reports it.
pub trait MemberTx {
    /// One device, if it has ever joined.
    fn device(
        &mut self,
        id: DeviceId,
    ) -> impl Future<Output = Result<Option<DeviceRow>, DatabaseError>> + Send;

    /// Every device, in the order of joining.
    fn devices(&mut self) -> impl Future<Output = Result<Vec<DeviceRow>, DatabaseError>> + Send;

    /// Adds or replaces a device.
    fn put_device(&mut self, row: &DeviceRow) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// What a token stands for, if the server has given it out.
    fn token(
        &mut self,
        hash: &SecretDigest,
    ) -> impl Future<Output = Result<Option<TokenRow>, DatabaseError>> + Send;

    /// Every token that a device was ever given, in no particular order.
    fn tokens_of(
        &mut self,
        device: DeviceId,
    ) -> impl Future<Output = Result<Vec<(SecretDigest, TokenRow)>, DatabaseError>> + Send;

    /// Every token that was revoked, and when, in no particular order.
    fn revoked_tokens(
        &mut self,
    ) -> impl Future<Output = Result<Vec<(SecretDigest, UnixMs)>, DatabaseError>> + Send;

    /// Adds or replaces a token. Its device has to be stored already.
    fn put_token(
        &mut self,
        hash: &SecretDigest,
        row: &TokenRow,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// The state of a join code, if it is known.
    fn join_code(
        &mut self,
        hash: &SecretDigest,
    ) -> impl Future<Output = Result<Option<JoinCodeRow>, DatabaseError>> + Send;

    /// Adds or replaces a join code.
    fn put_join_code(
        &mut self,
        hash: &SecretDigest,
        row: &JoinCodeRow,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Deletes the codes that a device asked for, whether they were used or not.
    fn void_join_codes(
        &mut self,
        minted_by: DeviceId,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Deletes the codes that expired before this time.
    fn forget_join_codes(&mut self, before: UnixMs)
    -> impl Future<Output = Result<(), DatabaseError>> + Send;
}
