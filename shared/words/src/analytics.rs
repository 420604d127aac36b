//! Sentences of answers over many records.

use crate::sentence::sentences;

sentences! {
}
