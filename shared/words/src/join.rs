//! Sentences of a device that joins a shop.

use crate::sentence::sentences;

sentences! {
}
