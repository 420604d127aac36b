//! Sentences of opening a pair up: findings, the construction key, the drawing.

use crate::sentence::sentences;

sentences! {
}
