//! Sentences of how long parts last, and when to look again.

use crate::sentence::sentences;

sentences! {
}
