//! Short content hashes, for file names and for knowing whether anything changed.

use sha2::{Digest, Sha256};

/// How many hexadecimal digits of a hash are kept: 64 bits, enough to tell the files of different builds apart.
const DIGITS: usize = 16;

/// A short SHA-256 of the parts. The length of each part is hashed before it, so that parts split differently give
/// different hashes.
pub fn digest<P: AsRef<[u8]>>(parts: impl IntoIterator<Item = P>) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        let part = part.as_ref();
        hash.update((part.len() as u64).to_be_bytes());
        hash.update(part);
    }
    let mut hex = hex::encode(hash.finalize());
    hex.truncate(DIGITS);
    hex
}

#[cfg(test)]
mod tests {
    use super::digest;

    #[test]
    fn other_bytes_have_another_name() {
        assert_eq!(digest(["a"]), digest(["a"]));
        assert_ne!(digest(["a"]), digest(["b"]));
    }

    #[test]
    fn the_split_counts() {
        assert_ne!(digest(["ab", "c"]), digest(["a", "bc"]));
    }
}
