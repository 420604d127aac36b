//! The server's backup file: whatever it contains, only files of a backup are written, and only where they belong.

use std::io;
use std::path::Path;

use server::backup::{self, UnpackError};
use support::sample::sha256;
use tempfile::TempDir;

/// A temporary folder, in memory if possible, because thousands of them are made.
pub(crate) fn scratch() -> TempDir {
    let memory = Path::new("/dev/shm");
    if memory.is_dir() {
        tempfile::tempdir_in(memory).unwrap()
    } else {
        tempfile::tempdir().unwrap()
    }
}

/// The number of bytes in all files below a folder. Panics if there is anything but files and folders.
fn written(folder: &Path) -> u64 {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return 0;
    };
    entries
        .map(|entry| {
            let entry = entry.unwrap();
            let kind = entry.file_type().unwrap();
            assert!(
                kind.is_dir() || kind.is_file(),
                "only files and folders: {entry:?}"
            );
            if kind.is_dir() {
                written(&entry.path())
            } else {
                entry.metadata().unwrap().len()
            }
        })
        .sum()
}

/// The input: a backup file.
pub(crate) fn restore(data: &[u8]) {
    let folder = scratch();
    let (file, into) = (folder.path().join("file"), folder.path().join("into"));
    std::fs::write(&file, data).unwrap();
    std::fs::create_dir(&into).unwrap();
    let read = backup::read(&file, &into, &server::disk::Disk::default());
    if let Err(UnpackError::Disk(error)) = &read {
        assert_ne!(error.kind(), io::ErrorKind::StorageFull, "{error}");
    }
    assert!(written(&into) <= data.len() as u64, "nothing grows on unpacking");
    let beside = std::fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(beside, 2, "nothing is written anywhere else");
    for entry in std::fs::read_dir(&into).unwrap() {
        let name = entry.unwrap().file_name();
        assert!(name == "waxend.db" || name == "photos", "{name:?}");
    }
}

pub(crate) fn seeds() -> Vec<Vec<u8>> {
    let folder = scratch();
    let root = folder.path().join("photos");
    let picture = b"\xff\xd8\xff picture";
    let name = sha256(picture);
    let photo = Path::new(&name[..2]).join(&name[2..4]).join(&name);
    std::fs::create_dir_all(root.join(&photo).parent().unwrap()).unwrap();
    std::fs::write(root.join(&photo), picture).unwrap();
    let database = folder.path().join("waxend.db");
    std::fs::write(&database, b"SQLite format 3\0 and so on").unwrap();
    let file = folder.path().join("backup.tar");
    backup::write(&file, &database, &root, &[photo]).unwrap();
    let whole = std::fs::read(&file).unwrap();
    // The number of the form is in the content of the first member.
    let mut first = whole.clone();
    first[512..528].copy_from_slice(b"waxend backup 1\n");
    // Kinds of members that a tar file can have and a backup never has.
    let mut odd = vec![whole.clone(), first];
    for kind in *b"12357LKSgx" {
        let mut other = whole.clone();
        // The second member's header: its kind, and the checksum over it.
        let header: &mut [u8] = &mut other[1024..1536];
        header[156] = kind;
        if kind == b'S' {
            // A sparse file: where its only piece of data begins, the length of the piece, and the size that the file
            // claims to have.
            header[386..398].copy_from_slice(b"00000010000\0");
            header[398..410].copy_from_slice(b"00000000000\0");
            header[483..495].copy_from_slice(b"00000010000\0");
            header[124..136].copy_from_slice(b"00000000000\0");
        }
        header[148..156].fill(b' ');
        let sum: u32 = header.iter().map(|byte| u32::from(*byte)).sum();
        header[148..156].copy_from_slice(format!("{sum:06o}\0 ").as_bytes());
        odd.push(other);
    }
    odd
}
