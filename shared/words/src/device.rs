//! Sentences of what the device itself refuses or reports: camera, storage, network, files.

use crate::sentence::sentences;

sentences! {
    app_stopped() { "The app has stopped." }
    saved_before_stop() { "What it showed as saved is on this device; the last tap may not have been." }
    start_app_again() { "Start it again" }

    screen_missing() { "This screen is not on this device yet" }
    screen_not_fetched() {
        "It could not be fetched. Everything recorded is safe. Try again when there is a network, \
         or start the app again if it has just been updated."
    }
    start_again() { "Start again" }
    part_missing() { "a part of the app is not on this device yet; it comes with the network, then try again" }

    records_not_opened() { "The records on this device cannot be opened now" }
    records_still_there() { "They are still there. Close other tabs of this app and open it again." }
    storage_did_not_answer() {
        "The storage of this device did not answer. Nothing was lost; it will be tried again."
    }

    server_did_not_answer() { "the shop's server did not answer" }

    calculation_failed(why: &str) { "it could not be worked out: {why}" }
    calculator_missing() { "its script is not on this device" }
    page_names_no_script() { "this page names none" }
    page_has_no_head() { "this page has no head" }
    not_over_https() { "this page was not opened over https: open the shop's https address" }

    camera_denied() { "this page may not use the camera; it can be allowed in the browser's settings" }
    camera_missing() { "no camera can be reached from this page; use the phone's own camera" }
    camera_busy() { "another app is using the camera; close it and try again" }
    camera_not_ready() { "the camera is not ready yet; wait a moment and tap again" }
    camera_failed(why: &str) { "the camera failed: {why}" }

    tag_reader_failed(why: &str) { "the reader of tags did not start ({why}): type the number" }
    tag_reader_missing() { "it is not on this device" }

    not_a_picture() { "this file is not a picture that can be read here; choose another" }
    picture_blank() { "the picture came out blank: take it again" }
    picture_failed(why: &str) { "the picture could not be made: {why}" }
    no_canvas() { "no canvas" }

    microphone_denied() { "this page may not use the microphone; it can be allowed in the browser's settings" }
    microphone_busy() { "another app is using the microphone; close it and try again" }
    recorder_missing() { "nothing can be recorded from this page; type the note" }
    recording_empty() { "the recording is empty; record it again" }
    recording_too_long() { "the recording is too long to be kept; record it in parts" }
    recording_failed(why: &str) { "the recording failed: {why}" }

    passing_on_failed(why: &str) { "This did not work: {why}." }
    no_room_for_file() { "no room for the file; free some room on this device" }
    no_share_sheet() { "the browser has no share sheet and no clipboard; mark the text and copy it by hand" }
    sharing_refused() { "the browser lets nothing be shared or copied here; mark the text and copy it by hand" }
}
