//! Sentences of the backup to a file.

use crate::sentence::sentences;

sentences! {
    backup() { "Backup" }
    save_everything() { "Save everything to a file" }
    save_what_no_server_has() { "Save only what no server has" }
    /// `pictures` is empty until the pictures are counted.
    what_it_holds(pictures: &str) {
        "It holds every entry, and the {pictures} pictures that are on this device. Pictures that are only on the \
        server stay there: back the server up as well."
    }
    saved_among_downloads(file: &str) { "Saved: {file}, among the downloads." }
    read_backup_in() { "Read a backup file in" }
    backup_is_on_this_device() { "The backup is on this device now." }
}
