//! Sentences of what Undo takes back.

use crate::sentence::sentences;

sentences! {
}
