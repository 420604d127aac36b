//! Sentences of saving and undoing: what was saved, what can be taken back.

use crate::sentence::sentences;

sentences! {
}
