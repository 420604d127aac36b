//! Sentences of the Shop: settings, price list, people, devices, storage and sync.

use crate::sentence::sentences;

pub mod backup;
pub mod bring;
pub mod check;
pub mod details;
pub mod devices;
pub mod hand;
pub mod hidden;
pub mod hours;
pub mod kept_aside;
pub mod lock;
pub mod materials;
pub mod measures;
pub mod money;
pub mod people;
pub mod prices;
pub mod storage;
pub mod sync;
pub mod take_out;

sentences! {
    shop() { "Shop" }
    saved() { "Saved." }
    language() { "Language" }
}
