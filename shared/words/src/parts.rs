//! Sentences of pieces that many screens use: fields, photographs, lists, the bar.

use crate::sentence::sentences;

sentences! {
}
