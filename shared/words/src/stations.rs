//! Sentences of where a pair stands, and what its line on a list says.

use crate::sentence::sentences;

sentences! {
}
