//! Sentences of printed sheets: stubs and tags.

use crate::sentence::sentences;

sentences! {
}
