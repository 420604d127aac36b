//! Sentences of what the store on the phone refuses or reports.

use crate::sentence::sentences;

sentences! {
    no_room_left() { "the device has no room left; free some, then do it again" }
    storage_did_not_answer() { "the device's storage did not answer" }
    other_tab_is_in_the_way() { "another tab of this app is in the way of an update; close it" }
    written_by_newer_app() { "the records on this device were written by a newer app; update this one" }
    storage_failed(why: &str) { "the device's storage failed: {why}" }
    browser_keeps_no_records() {
        "this browser keeps no records; leave its private mode, or open the app in another browser"
    }
    update_to_go_on_writing() {
        "the records on this device were written by a newer app; update this one to go on writing"
    }
    own_notes_unreadable(key: &str) { "the device's own notes under `{key}` cannot be read" }
    nothing_to_write_down() { "there is nothing in this record that could be written down" }
    picture_without_record() { "a picture was to be kept that no record speaks of" }
    records_of_another_shop() { "the records belong to another shop; choose a backup of this one" }
    not_a_backup() { "this file is not a Waxend backup; choose a file that Backup in Shop has saved" }
    backup_of_newer_app() { "this backup was written by a newer app; update this one to read it" }
    backup_not_complete() { "this backup is not complete: part of the file is missing; use another copy of it" }
    backup_damaged() { "this backup is damaged: part of the file is not what was written; use another copy of it" }
    file_cannot_be_checked(why: &str) { "this browser cannot check the file: {why}" }
    picture_not_on_device() { "This picture is not on the device any more." }
}
