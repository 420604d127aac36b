//! The verbs on devices, their tokens, and the codes by which they join.

use std::future::Future;

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
    /// Its own id.
    pub id: DeviceId,
    /// What people call it.
    pub name: String,
    /// The letters before its tag numbers.
    pub letters: String,
    /// When it joined, the last time it did.
    pub joined: UnixMs,
    /// When the shop shut it out, if it did.
    pub revoked: Option<UnixMs>,
    /// When it last pulled.
    pub seen: UnixMs,
    /// The number it had read up to then.
    pub seq: u64,
    /// The version of its app, if it said one.
    pub app: Option<String>,
}

/// What a token opens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TokenRow {
    /// The device it was given to.
    pub device: DeviceId,
    /// Whether it has been revoked.
    pub revoked: bool,
}

/// A join code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JoinCodeRow {
    /// When it stops working.
    pub expires: UnixMs,
    /// Whether a device has joined with it.
    pub used: bool,
}

/// Devices, tokens, join codes.
pub trait MemberTx {
    /// One device.
    fn device(
        &mut self,
        id: DeviceId,
    ) -> impl Future<Output = Result<Option<DeviceRow>, DatabaseError>> + Send;

    /// Every device, in the order of joining.
    fn devices(&mut self) -> impl Future<Output = Result<Vec<DeviceRow>, DatabaseError>> + Send;

    /// Adds or replaces a device.
    fn put_device(&mut self, row: &DeviceRow) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// What a token opens, if it is one of ours.
    fn token(
        &mut self,
        hash: &SecretDigest,
    ) -> impl Future<Output = Result<Option<TokenRow>, DatabaseError>> + Send;

    /// Gives a device a token.
    fn add_token(
        &mut self,
        hash: &SecretDigest,
        device: DeviceId,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Revokes every token of a device.
    fn revoke_tokens(
        &mut self,
        device: DeviceId,
        now: UnixMs,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// A join code.
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

    /// Forgets the codes that stopped working before this time.
    fn forget_join_codes(&mut self, before: UnixMs)
    -> impl Future<Output = Result<(), DatabaseError>> + Send;
}
