//! Sentences of what the device itself refuses or reports: camera, storage, network, files.

use crate::sentence::sentences;

sentences! {
}
