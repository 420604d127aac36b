//! Sentences of the care card.

use crate::sentence::sentences;

sentences! {
}
