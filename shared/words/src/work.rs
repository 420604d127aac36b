//! Sentences of work at a station, and what dries.

use crate::sentence::sentences;

sentences! {
}
