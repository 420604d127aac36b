//! Sentences of Records, and the pages of a ticket and a customer.

use crate::sentence::sentences;

sentences! {
}
