//! Sentences of what the store on the phone refuses or reports.

use crate::sentence::sentences;

sentences! {
}
