//! Sentences of the plan's own sentences: what to do now, why, what is late, what would help.

use crate::sentence::sentences;

sentences! {
}
