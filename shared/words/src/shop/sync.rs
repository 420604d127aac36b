//! Sentences of the sync: what is on this device and on the server.

use crate::sentence::sentences;

sentences! {
    sync() { "Sync" }
    /// The link [`join_again`] follows.
    still_on_this_device(why: &str) { "{why} Everything is still on this device. " }
    /// The link [`join_again`] follows.
    shut_out_and_wiped() {
        "The shop has shut this device out. What the shop's server has was deleted from this device. What was never sent is \
        kept here, and is sent once the device is let in again. "
    }
    /// A link after [`still_on_this_device`] or [`shut_out_and_wiped`].
    join_again() { "Join again" }
    /// The link [`join_a_shop`] follows, then [`to_bring_devices_together`].
    works_alone() { "This device works alone. " }
    /// A link after [`works_alone`].
    join_a_shop() { "Join a shop" }
    /// Follows the link [`join_a_shop`].
    to_bring_devices_together() { " to bring devices together." }
    last_contact(when: &str) { "Last contact: {when}" }
    no_contact_yet() { "Last contact: none yet" }
    sync_now() { "Sync now" }
    read_everything_again() { "Read everything again" }
    syncing() { "Syncing." }
    history_is_arriving() { "History is arriving; you can work meanwhile." }
    up_to_date() { "Everything is sent and read." }
    server_cannot_be_reached() { "The server cannot be reached. Everything is kept here and sent later." }
    not_joined() { "Not joined." }
    entries_here() { "Entries here" }
    pictures_here() { "Pictures here" }
    waiting_to_be_sent() { "waiting to be sent" }
    refused_by_server() { "refused by the server" }
    server_holds(entries: u64, pictures: u64) { "On the server: {entries} entries, {pictures} pictures. " }
    clock_ahead(days: i64) {
        one "This device's clock is a day ahead of the server's. Set it right: times and days noted here are wrong.",
        many "This device's clock is {days} days ahead of the server's. Set it right: times and days noted here are wrong.",
    }
    ask_what_server_holds() { "Ask the server what it holds" }
    server_has_new_address() { "The server has a new address" }
    new_address() { "New address" }
    use_this_address() { "Use this address" }
    not_taken_by_server() { "Not taken by the server, kept here" }
    entry_not_taken(entry: &str, why: &str) { "{entry}: {why}" }
    picture_not_taken(why: &str) { "A picture: {why}" }
    offer_again() { "Offer them again" }
}
