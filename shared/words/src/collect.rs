//! Sentences of what is due, the ready notice and what waits to be collected.

use crate::sentence::sentences;

sentences! {
}
