//! Types that several kinds of entry share.

use serde::{Deserialize, Serialize};

use crate::log::lower_case;
use crate::log::open::open_enum;

/// A stored photograph or voice note, identified by the hash of its bytes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Blob {
    /// SHA-256 of the bytes (FIPS 180-4), 64 lower-case hex digits; capitals are read as lower case.
    #[serde(deserialize_with = "lower_case::one")]
    pub sha256: String,
    /// The media type (RFC 6838), for example `image/jpeg`.
    pub media_type: String,
    /// Length in bytes.
    pub bytes: u64,
    /// Width in pixels; 0 for sound.
    #[serde(default)]
    pub width: u32,
    /// Height in pixels; 0 for sound.
    #[serde(default)]
    pub height: u32,
}

open_enum!(
    /// Which shoe of the pair.
    Side {
        /// The left shoe.
        Left = "left",
        /// The right shoe.
        Right = "right",
        /// Both shoes.
        Both = "both",
    }
);

impl Side {
    /// The words that follow the name of a part or an operation: `, left` or `, right`; empty for both shoes, and for a
    /// word that this version does not know.
    pub fn after(&self) -> &'static str {
        match self {
            Side::Left => ", left",
            Side::Right => ", right",
            Side::Both | Side::Other(_) => "",
        }
    }
}

open_enum!(
    /// What a photograph shows.
    Shows {
        /// The pair as it was brought. The app shows this picture wherever it lists the pair.
        DropOff = "drop_off",
        /// Work being done.
        Step = "step",
        /// Damage, at the counter or inside.
        Damage = "damage",
        /// A patch of colour, tried out.
        Swatch = "swatch",
        /// The finished pair.
        Finished = "finished",
    }
);
