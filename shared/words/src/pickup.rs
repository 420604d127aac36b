//! Sentences of Pickup: the final check, the care card, handing over.

use crate::sentence::sentences;

sentences! {
}
