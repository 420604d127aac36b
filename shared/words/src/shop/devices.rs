//! Sentences of the shop's devices.

use crate::sentence::sentences;

sentences! {
    devices() { "Devices" }
    for_repairers() { "Devices are let in and shut out by repairers." }
    what_each_may_do() {
        british "A repairer's device may do everything. A helper's does whole drop-offs, the work and collection. \
                 Settings, the price list, people and erasures are the repairers': the server takes none of them \
                 from it.",
        american "A repairer's device may do everything. A helper's does whole drop-offs, the work and pickup. \
                  Settings, the price list, people and erasures are the repairers': the server takes none of them from \
                  it."
    }
    add_repairers_phone() { "Add a repairer's phone" }
    add_helpers_phone() { "Add a helper's phone" }
    code_for_repairers() { "This code lets a repairer's device in." }
    code_for_helpers() { "This code lets a helper's device in." }
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
    /// A line about a device; `stands` is one of the sentences below.
    a_repairers(stands: &str) { "a repairer's, {stands}" }
    /// A line about a device; `stands` is one of the sentences below.
    a_helpers(stands: &str) { "a helper's, {stands}" }
    was_shut_out(when: &str) { "shut out {when}" }
    this_device() { "this device" }
    last_heard_of(when: &str) { "last heard of {when}" }
    shut_out_by_name(device: &str) { "Shut {device} out" }
    when_to_shut_out() {
        "For a device that is lost or given away. What it has sent stays in the shop, and is deleted on the device as soon as \
        it reaches the server. What it has not sent yet stays on it, and is sent when it is let in again with a new code."
    }
    shut_it_out() { "Shut it out" }
}
