//! Sentences of a device that joins a shop.

use crate::sentence::sentences;

sentences! {
    join_the_shop() { "Join the shop" }
    code() { "Code" }
    name_of_this_device() { "What this device is called" }
    servers_address() { "The server's address" }
    join() { "Join" }
    records_stay() { "Records already on this device stay and are brought to the shop." }
    joined_as_repairers() { "This device has joined the shop. This device is a repairer's." }
    joined_as_helpers() { "This device has joined the shop. This device is a helper's." }
    records_not_open_yet() { "The records are not open yet." }
    phone() { "Phone" }
    tablet() { "Tablet" }
    computer() { "Computer" }
}
