//! Sentences of the screens around the calculations.

use crate::sentence::sentences;

sentences! {
}
