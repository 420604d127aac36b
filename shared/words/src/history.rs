//! Sentences of a pair's history: how long ago, what was done.

use crate::sentence::sentences;

sentences! {
}
