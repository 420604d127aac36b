//! Sentences of saving and undoing: what was saved, what was undone.

use crate::sentence::sentences;

sentences! {
    not_saved_yet() {
        "This is not saved yet: the device's storage does not answer. Leave the app open; \
         it will be said when it is saved, or why not."
    }
    undo() { "Undo" }
    undone() { "Undone." }
}
