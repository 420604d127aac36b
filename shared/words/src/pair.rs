//! Sentences of a pair's own page: its head, its jobs, what was fitted, what comes next.

use crate::sentence::sentences;

sentences! {
}
