//! The verbs on blobs: which bytes are here. The bytes themselves are in [`crate::photos`].

use std::collections::HashMap;
use std::future::Future;
use std::str::FromStr;

use super::DatabaseError;

/// The name of a blob: the SHA-256 of its bytes, written as 64 lower-case hex digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BlobHash(pub [u8; 32]);

/// Text that is not a blob's name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("not a SHA-256 in lower-case hex")]
pub struct NotAHash;

impl FromStr for BlobHash {
    type Err = NotAHash;

    fn from_str(text: &str) -> Result<Self, NotAHash> {
        let mut bytes = [0; 32];
        if text.bytes().any(|b| b.is_ascii_uppercase()) {
            return Err(NotAHash);
        }
        hex::decode_to_slice(text, &mut bytes).map_err(|_| NotAHash)?;
        Ok(Self(bytes))
    }
}

impl std::fmt::Display for BlobHash {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&hex::encode(self.0))
    }
}

/// A blob whose bytes are in the photo folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlobRow {
    /// Its name.
    pub hash: BlobHash,
    /// For example `image/jpeg`.
    pub media_type: String,
    /// Its length.
    pub bytes: u64,
}

/// Which blobs are here.
pub trait BlobTx {
    /// One blob.
    fn blob(
        &mut self,
        hash: &BlobHash,
    ) -> impl Future<Output = Result<Option<BlobRow>, DatabaseError>> + Send;

    /// Those of these that are here, with their lengths.
    fn blobs(
        &mut self,
        hashes: &[BlobHash],
    ) -> impl Future<Output = Result<HashMap<BlobHash, u64>, DatabaseError>> + Send;

    /// Every blob.
    fn all_blobs(&mut self) -> impl Future<Output = Result<Vec<BlobRow>, DatabaseError>> + Send;

    /// Notes that a blob is here, if it is not noted yet.
    fn add_blob(&mut self, row: &BlobRow) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Forgets a blob, which is then not awaited either.
    fn remove_blob(&mut self, hash: &BlobHash) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Notes that a blob's bytes are not here after all; it is awaited again if an entry names it.
    fn miss_blob(&mut self, hash: &BlobHash) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// How many blobs are here.
    fn blob_count(&mut self) -> impl Future<Output = Result<u64, DatabaseError>> + Send;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_64_lower_case_hex_digits_name_a_blob() {
        let good = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(good.parse::<BlobHash>().unwrap().to_string(), good);
        for bad in [
            "",
            "ba78",
            &good.to_uppercase(),
            &format!("{good}00"),
            "../../../../etc/passwd",
            &good.replace('b', "g"),
        ] {
            assert_eq!(bad.parse::<BlobHash>(), Err(NotAHash), "{bad}");
        }
    }
}
