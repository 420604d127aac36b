//! Sentences of two photographs beside each other.

use crate::sentence::sentences;

sentences! {
}
