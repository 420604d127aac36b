//! The browser's clock and chance, for the store.

use super::window;
use shared::log::UnixMs;

use super::clock;
use crate::store::Surroundings;

/// The device's own clock and random source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BrowserDevice;

impl Surroundings for BrowserDevice {
    fn now(&self) -> UnixMs {
        clock::now()
    }

    fn offset_min(&self) -> i16 {
        clock::offset_min()
    }

    fn random(&self) -> [u8; 16] {
        let mut bits = [0; 16];
        let filled = window()
            .crypto()
            .and_then(|crypto| crypto.get_random_values_with_u8_array(&mut bits));
        // Every browser that runs wasm has it, for any page. Without chance ids would collide and links be guessed:
        // better to stop here than to write such records.
        assert!(filled.is_ok(), "the browser gives no random numbers");
        bits
    }
}
