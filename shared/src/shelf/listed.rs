//! The ids of materials that are taken over from the shop's older list, which knows them by their names only.

use uuid::Builder;

use crate::log::entry::SubjectId;

/// The offset basis of the hash FNV-1a with 128 bits, of Fowler, Noll and Vo.
const BASIS: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
/// Its prime.
const PRIME: u128 = (1 << 88) + 0x13b;

/// The id of the material with this name in the shop's older list. It follows from the name, so that two devices that
/// take the list over without knowing of each other make the same materials; and a material that is renamed on the
/// shelf is still found by the name that the list and older apps have for it.
pub fn listed_id(name: &str) -> SubjectId {
    let bytes = fnv(name.trim()).to_be_bytes();
    SubjectId(Builder::from_custom_bytes(bytes).into_uuid())
}

fn fnv(text: &str) -> u128 {
    text.bytes()
        .fold(BASIS, |hash, byte| (hash ^ u128::from(byte)).wrapping_mul(PRIME))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Computed with another program from the definition of the hash.
    #[test]
    fn the_hash_is_fnv_1a() {
        assert_eq!(fnv("a"), 0xd228_cb69_6f1a_8caf_7891_2b70_4e4a_8964);
        assert_eq!(fnv("foobar"), 0x343e_1662_793c_64bf_6f0d_3597_ba44_6f18);
    }

    #[test]
    fn the_id_follows_from_the_name_and_never_changes() {
        let id = listed_id("rubber sheet");
        assert_eq!(id.to_string(), "9846cc4a-1dbf-8b0a-9665-ed902d101a54");
        assert_eq!(listed_id(" rubber sheet "), id);
        assert_ne!(listed_id("rubber sheets"), id);
    }
}
