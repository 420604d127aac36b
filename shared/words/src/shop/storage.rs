//! Sentences of the storage that the records use.

use crate::sentence::sentences;

sentences! {
    room_on_this_device() { "Room on this device" }
    megabytes_used(used: f64, left: f64) { "{used} MB used, about {left} MB left." }
    ask_to_keep_records() { "Ask it to keep them" }
    browser_has_promised() { "The browser has promised to keep these records." }
    browser_may_clear() { "The browser may clear these records when the device runs short of room." }
    browser_does_not_say() { "This browser does not say how long it keeps records. Back up often." }
}
