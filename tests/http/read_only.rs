//! A data folder that cannot be written.

use std::process::{Command, Output};

use crate::WAXEND;

/// Runs a command of the binary on an empty data folder on a disk that is mounted for reading only, in a mount namespace
/// of its own.
fn on_read_only_disk(args: &[&str]) -> Output {
    let folder = tempfile::tempdir().unwrap();
    let script = "mount -t tmpfs -o ro tmpfs \"$0\" && exec \"$@\" --data \"$0\"";
    Command::new("unshare")
        .args(["--map-root-user", "--mount", "sh", "-c", script])
        .arg(folder.path())
        .arg(WAXEND)
        .args(args)
        .output()
        .unwrap()
}

#[test]
fn a_folder_that_cannot_be_written_is_not_said_to_be_in_use() {
    for args in [&["serve", "--listen", "127.0.0.1:0"][..], &["demo"]] {
        let out = on_read_only_disk(args);
        let said = String::from_utf8(out.stderr).unwrap();
        assert!(!out.status.success() && !said.contains("already runs"), "{said}");
        assert!(
            said.contains("cannot be written: Read-only file system"),
            "{said}"
        );
    }
}
