//! The browser's clock and random numbers, for the store.

use super::window;
use shared::log::UnixMs;

use super::clock;
use crate::store::Surroundings;

/// The device's own clock and its source of random numbers.
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
        // Every browser that runs wasm provides it, for any page. Without random numbers ids would collide and card
        // links could be guessed: it is better to stop than to write such records.
        assert!(filled.is_ok(), "the browser gives no random numbers");
        bits
    }
}
