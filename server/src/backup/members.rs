//! The names of a backup's members, and the list of their digests.

use std::fs;
use std::io::{self, Read};
use std::path::Path;

use server_core::store::BlobHash;
use sha2::{Digest as _, Sha256};

/// Name of the first member, which identifies the file as a backup.
pub(super) const LABEL: &str = "waxend-backup";
/// What the first member holds in a backup of Waxend 0.1.0.
pub(super) const FIRST: &[u8] = b"waxend backup 1\n";
/// What the first member holds since then.
pub(super) const SECOND: &[u8] = b"waxend backup 2\n";
/// Name of the member with the database.
pub const DATABASE: &str = "waxend.db";
/// Folder of the photographs; below it each has the path that it has in the photo folder.
pub(super) const PHOTOS: &str = "photos";
/// Name of the member with the digests of the members before it.
pub(super) const DIGESTS: &str = "waxend-digests";
/// Name of the last member.
pub(super) const END: &str = "waxend-end";

/// The digests of members, one line each, as `sha256sum` writes and checks them.
#[derive(Debug, Default)]
pub(super) struct DigestList(String);

impl DigestList {
    /// Adds the next member.
    pub(super) fn add(&mut self, digest: &BlobHash, path: &str) {
        self.0.push_str(&format!("{digest}  {path}\n"));
    }

    /// The content of the member with the digests.
    pub(super) fn text(&self) -> &str {
        &self.0
    }
}

/// A reader that computes the SHA-256 of what is read through it.
#[derive(Debug)]
pub(super) struct HashingReader<R> {
    inner: R,
    hasher: Sha256,
    bytes: u64,
}

impl<R: Read> HashingReader<R> {
    pub(super) fn new(inner: R) -> Self {
        Self {
            inner,
            hasher: Sha256::new(),
            bytes: 0,
        }
    }

    /// The digest of what was read, and how many bytes that were.
    pub(super) fn finish(self) -> (BlobHash, u64) {
        (BlobHash(self.hasher.finalize().into()), self.bytes)
    }
}

impl<R: Read> Read for HashingReader<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.inner.read(buffer)?;
        self.hasher.update(&buffer[..read]);
        self.bytes += read as u64;
        Ok(read)
    }
}

/// The SHA-256 of some bytes.
pub(super) fn digest(bytes: &[u8]) -> BlobHash {
    BlobHash(Sha256::digest(bytes).into())
}

/// The bytes of a photograph; `None` if it is missing, or its bytes are not those that its name promises.
///
/// # Errors
/// When it is there and cannot be read.
pub fn intact(photo: &Path) -> io::Result<Option<Vec<u8>>> {
    let bytes = match fs::read(photo) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        read => read?,
    };
    let name = photo.file_name().unwrap_or_default();
    Ok((name == digest(&bytes).to_string().as_str()).then_some(bytes))
}
