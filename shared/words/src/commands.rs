//! Sentences of what a command refuses, and the lines it writes.

use crate::sentence::sentences;

sentences! {
}
