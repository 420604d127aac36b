//! Sentences of the camera.

use crate::sentence::sentences;

sentences! {
}
