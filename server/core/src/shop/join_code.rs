//! The code that a person types to join a device: eight letters and digits that are hard to confuse with one another.

use sha2::{Digest as _, Sha256};

use crate::store::SecretDigest;
use crate::world::World;

/// Digits and capital letters without 0, 1, I, L, O and U.
const ALPHABET: &[u8; 30] = b"23456789ABCDEFGHJKMNPQRSTVWXYZ";
const LENGTH: usize = 8;

/// A new code as it is shown, for example `K7QM-2RTX`.
pub(super) fn fresh(world: &dyn World) -> String {
    let mut code = String::with_capacity(LENGTH + 1);
    while code.len() < LENGTH + 1 {
        if code.len() == LENGTH / 2 {
            code.push('-');
        }
        let [byte] = world.bytes();
        // 240 is a multiple of 30. With bytes from 240 on, some letters would be more likely than others.
        if byte < 240 {
            code.push(char::from(ALPHABET[usize::from(byte) % ALPHABET.len()]));
        }
    }
    code
}

/// A code as somebody has typed it, in the form in which codes are compared: capitals, without spaces and dashes.
pub fn typed(code: &str) -> String {
    code.chars()
        .filter(char::is_ascii_alphanumeric)
        .map(|c| c.to_ascii_uppercase())
        .take(LENGTH * 2)
        .collect()
}

/// The SHA-256 that is stored in the place of a secret.
pub(super) fn digest(secret: &str) -> SecretDigest {
    SecretDigest(Sha256::digest(secret.as_bytes()).into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::world::RealWorld;

    #[test]
    fn a_code_reads_the_same_however_it_is_typed() {
        let code = fresh(&RealWorld);
        assert_eq!(code.len(), 9);
        assert_eq!(&code[4..5], "-");
        assert_eq!(
            typed(&code),
            typed(&format!(" {} ", code.to_lowercase().replace('-', " ")))
        );
        assert_eq!(typed("k7qm–2rtx"), "K7QM2RTX");
    }
}
