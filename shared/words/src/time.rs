//! Sentences of days, months, times and spans.

use crate::sentence::sentences;

sentences! {
}
