//! Sentences of the choice of the hand that holds the device.

use crate::sentence::sentences;

sentences! {
    hand_that_holds_it() { "The hand that holds it" }
    left_hand() { "Left hand" }
}
