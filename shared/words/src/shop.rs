//! Sentences of the Shop: settings, price list, people, devices, storage and sync.

use crate::sentence::sentences;

sentences! {
}
