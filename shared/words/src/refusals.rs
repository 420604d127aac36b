//! Sentences of the server to a device: why a request was refused or failed. A code stands beside each of them.

use crate::sentence::sentences;

sentences! {
    request_unreadable() {
        "The server could not read this request. The app may be older or newer than the server."
    }
    more_than_taken_at_once() { "This is more than the server takes at once." }
    came_too_slowly() {
        "This came too slowly and was given up. Everything is kept on the device and will be sent again."
    }
    code_unknown() { "This join code is not known, or it has already been used. Ask for a new one." }
    code_expired() { "This join code is older than ten minutes. Ask for a new one." }
    records_of_another_shop() {
        "This device's records belong to another shop. It cannot join this one: use another device, or another browser on \
        it."
    }
    device_has_not_joined() { "This device has not joined the shop. Join it with a code." }
    device_unknown() {
        "The server does not know this device. Everything is kept on it: join again with a new code."
    }
    device_shut_out() {
        "The shop has shut this device out. Everything is kept on it: join again with a new code."
    }
    device_not_heard_of() {
        "The shop has not heard of this device for half a year, so its access has ended. Everything is kept on it: join \
        again with a new code."
    }
    device_has_access_already() {
        "This device has access to the shop already. If it no longer works here, shut it out on another device first (Shop, \
        Devices), then join again."
    }
    records_are_not_those_last_read() {
        "The server's records are not those this device last read. It will read everything again."
    }
    photo_damaged_on_the_way() { "The photo was damaged on the way. It will be sent again." }
    not_the_name_of_a_photo() { "This is not the name of a photo." }
    photo_is_empty() { "The photo is empty." }
    neither_photo_nor_voice_note() {
        "The shop keeps photos (JPEG, PNG, WebP) and voice notes only, and this is neither."
    }
    photo_has_exif() {
        "This photo still has data of its camera (EXIF), which can say where it was taken. The shop's server does not take \
        it. Take the photo anew, or add it from its file again."
    }
    request_is_not_json() { "The server reads this request as JSON only, and it was sent as something else." }
    erased_and_not_taken_again() { "This was erased, and the server does not take it again." }
    nothing_under_that_name() { "There is nothing here under that name." }
    address_does_not_answer_that() { "This address does not answer that kind of request." }
    too_many_requests(seconds: u64) { "Too many requests. Try again in {seconds} s." }
    disk_of_server_full() {
        "The server's disk is full. Everything is kept on the device until there is room."
    }
    quota_of_shop_full() {
        "The shop has as many records or photos as its server is set to take. Everything is kept on the device until more \
        are allowed."
    }
    server_busy() { "The server is busy or stopping. Try again in a moment." }
    server_failed() { "The server could not do this and has written down why." }
    request_unreadable_here() {
        "The server could not read this request. The app may be older or newer than it."
    }
    server_did_not_answer() { "The shop's server did not answer. Try again in a moment." }
    entry_unreadable() { "The server could not read this entry. It stays on the device." }
    time_outside_range() {
        "The server does not take this: it carries a time outside the range that can be kept."
    }
    entry_not_taken(why: &str) { "The server does not take this: {why}." }
    card_link_of_another_pair() { "This card link already belongs to another pair. The pair needs a new one." }
    number_of_another_entry() { "The server already has another entry under this entry's number." }
    empty_without_erasure() {
        "This entry is empty, and the server knows of no erasure that explains it. It stays on the device until the \
         erasure has arrived."
    }
    shop_cannot_be_erased() { "The shop itself cannot be erased." }
    kept_for_repairer() {
        "A repairer has to take this into the shop's records first. The server keeps it until then."
    }
    kept_aside_is_full() {
        "A repairer has to take this into the shop's records first, and the server has no room to keep it until then. It \
        stays on the device."
    }
    dropped_by_repairer() {
        "A repairer has not taken this into the shop's records. It stays on the device that made it."
    }
    for_repairer() { "Only a repairer's device can do this." }
    last_repairer() {
        "This would leave the shop without a repairer's device. Join another repairer's device first."
    }
    too_many_erasures() {
        "The shop has erased as much today as it erases in one day. Erase this tomorrow, or ask for it: then it is erased in \
        two days."
    }
}
