//! Sentences of a pair that came back with a complaint.

use crate::sentence::sentences;

sentences! {
}
