//! Sentences of the calculations: their questions and answers.

use crate::sentence::sentences;

sentences! {
}
