//! Backups: one tar file with a consistent copy of the database and of every photograph that the database lists.
//!
//! The erasure ledger is not in it, so that restoring an old backup cannot undo an erasure.

use std::fs::{self, File};
use std::io::{self, BufReader, BufWriter, Read, Write};
use std::path::{Component, Path, PathBuf};

use crate::disk::Disk;

use tar::{Archive, Builder, EntryType, Header};

/// Name of the first member of the tar file. It identifies the file as a backup and holds the version of the format.
const LABEL: &str = "waxend-backup";
const FORM: &[u8] = b"waxend backup 1\n";
/// Name of the member with the database.
const DATABASE: &str = "waxend.db";
/// Folder of the photographs; below it each has the path that it has in the photo folder.
const PHOTOS: &str = "photos";
/// Name of the last member. A file without it was cut short.
const END: &str = "waxend-end";

/// Writes a backup. `photos` are paths below `root`; a photograph that was erased meanwhile is left out.
///
/// # Errors
/// When something cannot be read or written; no backup file is left then.
pub fn write(file: &Path, database: &Path, root: &Path, photos: &[PathBuf]) -> io::Result<()> {
    let draft = file.with_added_extension("part");
    let written = pack(&draft, database, root, photos)
        // The file gets the requested name only when it is complete.
        .and_then(|()| fs::hard_link(&draft, file));
    // The draft is removed after a failure too: on a full disk it would only take up room.
    let removed = fs::remove_file(&draft);
    written.and(removed)?;
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => File::open(folder)?.sync_all(),
        _ => File::open(".")?.sync_all(),
    }
}

fn pack(draft: &Path, database: &Path, root: &Path, photos: &[PathBuf]) -> io::Result<()> {
    let mut tar = Builder::new(BufWriter::new(File::create(draft)?));
    member(&mut tar, LABEL, FORM)?;
    tar.append_path_with_name(database, DATABASE)?;
    for photo in photos {
        match tar.append_path_with_name(root.join(photo), Path::new(PHOTOS).join(photo)) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            done => done?,
        }
    }
    member(&mut tar, END, b"")?;
    let mut out = tar.into_inner()?;
    out.flush()?;
    out.get_ref().sync_all()
}

/// Unpacks a backup into an empty folder.
///
/// # Errors
/// `InvalidData` when the file is not a complete Waxend backup; the folder may then hold some of its files.
pub fn read(file: &Path, into: &Path, disk: &Disk) -> io::Result<()> {
    let mut archive = Archive::new(BufReader::new(File::open(file)?));
    let mut members = archive.entries()?;
    let mut first = members.next().ok_or_else(not_ours)?.map_err(|_| not_ours())?;
    let mut form = Vec::new();
    first
        .by_ref()
        .take(FORM.len() as u64 + 1)
        .read_to_end(&mut form)?;
    if first.path()? != Path::new(LABEL) || form != FORM {
        return Err(not_ours());
    }
    for entry in members {
        let mut entry = entry.map_err(|_| not_ours())?;
        // A backup holds only regular files. A sparse file, for example, could unpack to any size.
        if entry.header().entry_type() != EntryType::Regular {
            return Err(not_ours());
        }
        let path = entry.path().map_err(|_| not_ours())?.into_owned();
        if path == Path::new(END) {
            return Ok(());
        }
        unpack(&mut entry, &path, into, disk)?;
    }
    Err(not_ours())
}

/// Unpacks one member. Only regular files are accepted, and only at the paths that a backup uses.
fn unpack(entry: &mut impl Read, path: &Path, into: &Path, disk: &Disk) -> io::Result<()> {
    let plain = path.components().all(|part| matches!(part, Component::Normal(_)));
    let expected = path == Path::new(DATABASE) || path.starts_with(PHOTOS);
    if !plain || !expected {
        return Err(not_ours());
    }
    let place = into.join(path);
    if let Some(folder) = place.parent() {
        disk.create_folder(folder)?;
    }
    disk.write(&place, entry).map_err(|error| match error.kind() {
        // The tar reader reports these kinds when the file ends in the middle of a member.
        io::ErrorKind::Other | io::ErrorKind::UnexpectedEof => not_ours(),
        _ => error,
    })
}

fn member(tar: &mut Builder<impl Write>, name: &str, bytes: &[u8]) -> io::Result<()> {
    let mut header = Header::new_gnu();
    header.set_entry_type(EntryType::Regular);
    header.set_size(bytes.len() as u64);
    header.set_mode(0o600);
    header.set_cksum();
    tar.append_data(&mut header, name, bytes)
}

fn not_ours() -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, "not a complete Waxend backup")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A backup of an empty database with one more member added.
    fn with_member(header: &Header, folder: &Path) -> PathBuf {
        let file = folder.join("backup.tar");
        let mut tar = Builder::new(File::create(&file).unwrap());
        member(&mut tar, LABEL, FORM).unwrap();
        member(&mut tar, DATABASE, b"").unwrap();
        tar.append(header, io::empty()).unwrap();
        member(&mut tar, END, b"").unwrap();
        tar.finish().unwrap();
        file
    }

    fn header(kind: EntryType) -> Header {
        let mut header = Header::new_gnu();
        header.set_path("photos/hole").unwrap();
        header.set_entry_type(kind);
        header.set_size(0);
        header.set_mode(0o600);
        header
    }

    #[test]
    fn a_member_that_is_no_plain_file_is_refused_before_anything_of_it_is_written() {
        let kinds = [
            EntryType::Link,
            EntryType::Symlink,
            EntryType::Directory,
            EntryType::Fifo,
            EntryType::Char,
        ];
        for kind in kinds {
            let folder = tempfile::tempdir().unwrap();
            let mut other = header(kind);
            other.set_cksum();
            let read = read(
                &with_member(&other, folder.path()),
                folder.path(),
                &Disk::default(),
            );
            assert_eq!(read.unwrap_err().kind(), io::ErrorKind::InvalidData, "{kind:?}");
            assert!(!folder.path().join("photos").exists(), "{kind:?}");
        }
    }

    /// A sparse member: 512 bytes in the file that claim to be 64 MiB of zeros. It could claim any size.
    #[test]
    fn a_file_with_holes_does_not_grow() {
        const SAYS: u64 = 64 << 20;
        let folder = tempfile::tempdir().unwrap();
        let mut hole = header(EntryType::GNUSparse);
        let gnu = hole.as_gnu_mut().unwrap();
        gnu.sparse[0]
            .offset
            .copy_from_slice(format!("{SAYS:011o}\0").as_bytes());
        gnu.sparse[0].numbytes.copy_from_slice(b"00000000000\0");
        gnu.realsize.copy_from_slice(format!("{SAYS:011o}\0").as_bytes());
        hole.set_cksum();
        let read = read(
            &with_member(&hole, folder.path()),
            folder.path(),
            &Disk::default(),
        );
        assert_eq!(read.unwrap_err().kind(), io::ErrorKind::InvalidData);
        assert!(!folder.path().join("photos/hole").exists());
    }
}
