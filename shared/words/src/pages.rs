//! Sentences of the server's own pages, for those who open a link.

use crate::sentence::sentences;

sentences! {
}
