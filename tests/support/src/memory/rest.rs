//! Blobs, devices, tokens and join codes in memory.

use std::collections::HashMap;

use server_core::store::{
    BlobHash, BlobRow, BlobTx, DatabaseError, DeviceRow, JoinCodeRow, MemberTx, SecretDigest, TokenRow,
};
use shared::log::{DeviceId, UnixMs};

use super::MemoryTx;

impl BlobTx for MemoryTx {
    async fn blob(&mut self, hash: &BlobHash) -> Result<Option<BlobRow>, DatabaseError> {
        Ok(self.state.blobs.get(hash).cloned())
    }

    async fn blobs(&mut self, hashes: &[BlobHash]) -> Result<HashMap<BlobHash, u64>, DatabaseError> {
        let here = |hash: &BlobHash| Some((*hash, self.state.blobs.get(hash)?.bytes));
        Ok(hashes.iter().filter_map(here).collect())
    }

    async fn all_blobs(&mut self) -> Result<Vec<BlobRow>, DatabaseError> {
        Ok(self.state.blobs.values().cloned().collect())
    }

    async fn add_blob(&mut self, row: &BlobRow) -> Result<(), DatabaseError> {
        let state = self.change();
        state.blobs.entry(row.hash).or_insert_with(|| row.clone());
        state.awaited.remove(&row.hash);
        Ok(())
    }

    async fn remove_blob(&mut self, hash: &BlobHash) -> Result<(), DatabaseError> {
        let state = self.change();
        state.blobs.remove(hash);
        state.awaited.remove(hash);
        Ok(())
    }

    async fn miss_blob(&mut self, hash: &BlobHash) -> Result<(), DatabaseError> {
        self.remove_blob(hash).await?;
        let state = self.change();
        if state.named.range((*hash, 0)..=(*hash, u64::MAX)).next().is_some() {
            state.awaited.insert(*hash);
        }
        Ok(())
    }

    async fn blob_count(&mut self) -> Result<u64, DatabaseError> {
        Ok(self.state.blobs.len() as u64)
    }

    async fn blob_bytes(&mut self) -> Result<u64, DatabaseError> {
        Ok(self.state.blobs.values().map(|blob| blob.bytes).sum())
    }
}

impl MemberTx for MemoryTx {
    async fn device(&mut self, id: DeviceId) -> Result<Option<DeviceRow>, DatabaseError> {
        Ok(self.state.devices.get(&id).cloned())
    }

    async fn devices(&mut self) -> Result<Vec<DeviceRow>, DatabaseError> {
        let mut devices: Vec<_> = self.state.devices.values().cloned().collect();
        devices.sort_by(|a, b| (a.joined, &a.letters).cmp(&(b.joined, &b.letters)));
        Ok(devices)
    }

    async fn put_device(&mut self, row: &DeviceRow) -> Result<(), DatabaseError> {
        self.change().devices.insert(row.id, row.clone());
        Ok(())
    }

    async fn token(&mut self, hash: &SecretDigest) -> Result<Option<TokenRow>, DatabaseError> {
        Ok(self.state.tokens.get(&hash.0).copied())
    }

    async fn tokens_of(&mut self, device: DeviceId) -> Result<Vec<(SecretDigest, TokenRow)>, DatabaseError> {
        let own = self.state.tokens.iter().filter(|(_, row)| row.device == device);
        Ok(own.map(|(hash, row)| (SecretDigest(*hash), *row)).collect())
    }

    async fn revoked_tokens(&mut self) -> Result<Vec<(SecretDigest, UnixMs)>, DatabaseError> {
        let tokens = self.state.tokens.iter();
        let revoked = tokens.filter_map(|(hash, row)| Some((SecretDigest(*hash), row.revoked?)));
        Ok(revoked.collect())
    }

    async fn put_token(&mut self, hash: &SecretDigest, row: &TokenRow) -> Result<(), DatabaseError> {
        let state = self.change();
        assert!(state.devices.contains_key(&row.device), "a token of no device");
        state.tokens.insert(hash.0, *row);
        Ok(())
    }

    async fn join_code(&mut self, hash: &SecretDigest) -> Result<Option<JoinCodeRow>, DatabaseError> {
        Ok(self.state.codes.get(&hash.0).cloned())
    }

    async fn put_join_code(&mut self, hash: &SecretDigest, row: &JoinCodeRow) -> Result<(), DatabaseError> {
        self.change().codes.insert(hash.0, row.clone());
        Ok(())
    }

    async fn void_join_codes(&mut self, minted_by: DeviceId) -> Result<(), DatabaseError> {
        let codes = &mut self.change().codes;
        codes.retain(|_, code| code.minted_by != Some(minted_by));
        Ok(())
    }

    async fn forget_join_codes(&mut self, before: UnixMs) -> Result<(), DatabaseError> {
        self.change().codes.retain(|_, code| code.expires >= before);
        Ok(())
    }
}
