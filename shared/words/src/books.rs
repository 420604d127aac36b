//! Sentences of the books, job statistics and profitability.

use crate::sentence::sentences;

sentences! {
}
