//! Sentences of the Bench: pairs, selection, the plan beside them.

use crate::sentence::sentences;

sentences! {
}
