//! Sentences of the shop's devices.

use crate::sentence::sentences;

sentences! {
    devices() { "Devices" }
    let_another_in() { "Let another device in" }
    /// The address follows in an element, then [`and_type`].
    on_the_other_device_open() { "On the other device open " }
    /// Between the address, after [`on_the_other_device_open`], and the code; then [`works_once`].
    and_type() { " and type " }
    /// Follows the code, after [`and_type`].
    works_once() { ". It works once, for ten minutes." }
    which_have_joined() { "Which devices have joined" }
    joined() { "Joined" }
    too_old(version: &str) {
        "Too old: its app is of version {version}. On it, with a network, tap 'Restart with the new version'."
    }
    too_old_of_unknown_version() {
        "Too old: its app is of an unknown version. On it, with a network, tap 'Restart with the new version'."
    }
    was_shut_out(when: &str) { "shut out {when}" }
    this_device() { "this device" }
    last_heard_of(when: &str) { "last heard of {when}" }
    shut_out_by_name(device: &str) { "Shut {device} out" }
    when_to_shut_out() {
        "For a device that is lost or given away. What it has sent stays; what it has not sent yet stays on it, and it \
        can be let in again with a new code."
    }
    shut_it_out() { "Shut it out" }
}
