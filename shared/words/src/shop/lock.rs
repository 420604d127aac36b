//! Sentences of the screen lock.

use crate::sentence::sentences;

sentences! {
    screen_lock() { "Screen lock" }
    what_it_does() {
        "For a device that is shared at the bench. While the screen lock is on, it shows a helper's screen until the PIN is \
        typed. It locks with one tap, and by itself when the app is started. The PIN stays on this device."
    }
    /// The link [`join_anew`] follows.
    only_of_the_screen() {
        "It is a lock of the screen only. Whoever forgets the PIN joins the device anew as a repairer's, which takes the \
        lock away: on the server, 'waxend join' gives a code. "
    }
    /// A link after [`only_of_the_screen`].
    join_anew() { "Join anew" }
    new_pin() { "New PIN, four to eight digits" }
    set_pin() { "Set the PIN" }
    take_away() { "Take the lock away" }
    lock() { "Lock" }
    pin() { "PIN" }
    unlock() { "Unlock" }
    screen_is_locked() { "The screen lock is on: this is a helper's screen." }
    ask_for_pin() { "A PIN has four to eight digits." }
    pin_is_set() { "The PIN is set. The screen lock is on after a tap on Lock, and whenever the app is started." }
    taken_away() { "The screen lock is taken away." }
    wrong_pin() { "This is not the PIN. Type it again." }
    wait_before_next_try(seconds: i64) {
        one "That was wrong five times. Try again in 1 second.",
        many "That was wrong five times. Try again in {seconds} seconds.",
    }
}
