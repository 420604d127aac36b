//! Operations on the table of blobs: which ones are stored. Their bytes are in [`crate::photos`].

use std::collections::HashMap;
use std::future::Future;
use std::str::FromStr;

use super::DatabaseError;

/// The name of a blob: the SHA-256 of its bytes, written as 64 lower-case hex digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BlobHash(pub [u8; 32]);

/// The error for text that is no SHA-256 in lower-case hex.
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
    /// The SHA-256 of its bytes.
    pub hash: BlobHash,
    /// Its media type, for example `image/jpeg`.
    pub media_type: String,
    /// Its length in bytes.
    pub bytes: u64,
}

/// Operations on the table of blobs.
pub trait BlobTx {
    /// The row of one blob, if it is stored.
    fn blob(
        &mut self,
        hash: &BlobHash,
    ) -> impl Future<Output = Result<Option<BlobRow>, DatabaseError>> + Send;

    /// The lengths in bytes of those of these blobs that are stored.
    fn blobs(
        &mut self,
        hashes: &[BlobHash],
    ) -> impl Future<Output = Result<HashMap<BlobHash, u64>, DatabaseError>> + Send;

    /// The rows of all stored blobs.
    fn all_blobs(&mut self) -> impl Future<Output = Result<Vec<BlobRow>, DatabaseError>> + Send;

    /// Adds a blob, unless it is there already. It is no longer awaited.
    fn add_blob(&mut self, row: &BlobRow) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Removes a blob. It is not awaited either.
    fn remove_blob(&mut self, hash: &BlobHash) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Removes a blob whose bytes were lost. If an entry names it, it is awaited again.
    fn miss_blob(&mut self, hash: &BlobHash) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// How many blobs are stored.
    fn blob_count(&mut self) -> impl Future<Output = Result<u64, DatabaseError>> + Send;

    /// How many bytes the stored blobs have together.
    fn blob_bytes(&mut self) -> impl Future<Output = Result<u64, DatabaseError>> + Send;
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
