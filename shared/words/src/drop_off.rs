//! Sentences of Drop-off: customer, pair, work, days, ticket.

use crate::sentence::sentences;

sentences! {
}
