//! Sentences of the question to a customer about hidden damage.

use crate::sentence::sentences;

sentences! {
}
