//! Backups that are damaged, cut short or made up, and what a backup leaves alone.

use std::fs::{self, File};
use std::io;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::Command;

use tar::{Builder, EntryType, Header};
use tempfile::TempDir;

use super::members::{DATABASE, DIGESTS, DigestList, END, FIRST, LABEL, SECOND, digest};
use super::*;
use crate::disk::Disk;

/// The path and the content of a member.
type Member<'a> = (&'a str, &'a [u8]);

const PICTURE: &[u8] = b"\xff\xd8\xff a picture";

/// The path of a photograph in a backup, and in the photo folder after `photos/`.
fn path_of(picture: &[u8]) -> String {
    let name = digest(picture).to_string();
    format!("photos/{}/{}/{name}", &name[..2], &name[2..4])
}

fn header(kind: EntryType, size: u64) -> Header {
    let mut header = Header::new_gnu();
    header.set_entry_type(kind);
    header.set_size(size);
    header.set_mode(0o600);
    header
}

fn add(tar: &mut Builder<File>, path: &str, content: &[u8]) {
    let mut header = header(EntryType::Regular, content.len() as u64);
    tar.append_data(&mut header, path, content).unwrap();
}

/// A folder with a backup of the first form: of an empty database, and of what `more` adds.
fn first(more: impl FnOnce(&mut Builder<File>)) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("backup.tar");
    let mut tar = Builder::new(File::create(&file).unwrap());
    add(&mut tar, LABEL, FIRST);
    add(&mut tar, DATABASE, b"");
    more(&mut tar);
    add(&mut tar, END, b"");
    tar.finish().unwrap();
    (folder, file)
}

/// A folder with a backup of the second form that has these members, and these in its list.
fn second(members: &[Member<'_>], listed: &[Member<'_>]) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("backup.tar");
    let mut tar = Builder::new(File::create(&file).unwrap());
    add(&mut tar, LABEL, SECOND);
    let mut digests = DigestList::default();
    digests.add(&digest(SECOND), LABEL);
    for (path, content) in members {
        add(&mut tar, path, content);
    }
    for (path, content) in listed {
        digests.add(&digest(content), path);
    }
    add(&mut tar, DIGESTS, digests.text().as_bytes());
    add(&mut tar, END, b"");
    tar.finish().unwrap();
    (folder, file)
}

fn unpacked((folder, file): &(TempDir, PathBuf)) -> Result<BackupForm, UnpackError> {
    let into = folder.path().join("into");
    fs::create_dir(&into).unwrap();
    read(file, &into, &Disk::default())
}

fn is_no_backup(backup: &(TempDir, PathBuf)) -> bool {
    matches!(unpacked(backup), Err(UnpackError::NotABackup))
}

#[test]
fn a_member_that_is_no_plain_file_is_refused_before_anything_of_it_is_written() {
    let kinds = [
        EntryType::Link,
        EntryType::Symlink,
        EntryType::Directory,
        EntryType::Fifo,
        EntryType::Char,
        EntryType::Continuous,
    ];
    for kind in kinds {
        let backup = first(|tar| {
            let mut other = header(kind, 0);
            other.set_path(path_of(b"")).unwrap();
            other.set_cksum();
            tar.append(&other, io::empty()).unwrap();
        });
        assert!(is_no_backup(&backup), "{kind:?}");
        assert!(!backup.0.path().join("into/photos").exists(), "{kind:?}");
    }
}

/// A sparse member: 512 bytes in the file that claim to be 64 MiB of zeros. It could claim any size.
#[test]
fn a_file_with_holes_does_not_grow() {
    const SAYS: u64 = 64 << 20;
    let backup = first(|tar| {
        let mut hole = header(EntryType::GNUSparse, 0);
        hole.set_path(path_of(b"hole")).unwrap();
        let gnu = hole.as_gnu_mut().unwrap();
        gnu.sparse[0]
            .offset
            .copy_from_slice(format!("{SAYS:011o}\0").as_bytes());
        gnu.sparse[0].numbytes.copy_from_slice(b"00000000000\0");
        gnu.realsize.copy_from_slice(format!("{SAYS:011o}\0").as_bytes());
        hole.set_cksum();
        tar.append(&hole, io::empty()).unwrap();
    });
    assert!(is_no_backup(&backup));
    assert!(!backup.0.path().join("into/photos").exists());
}

/// Extended headers can make another file of the plain one that follows: they can change its size and its path, or say
/// that it is a sparse file.
#[test]
fn a_plain_file_with_extended_headers_is_refused() {
    let path = path_of(PICTURE);
    let plain = first(|tar| add(tar, &path, PICTURE));
    assert!(matches!(unpacked(&plain), Ok(BackupForm::First)));
    let extensions: [&[Member<'_>]; 4] = [
        &[
            ("GNU.sparse.major", b"1"),
            ("GNU.sparse.minor", b"0"),
            ("GNU.sparse.name", b"waxend.db"),
            ("GNU.sparse.realsize", b"67108864"),
        ],
        &[("size", b"16")],
        &[("path", path.as_bytes())],
        &[("comment", b"nothing")],
    ];
    for extension in extensions {
        let extended = first(|tar| {
            tar.append_pax_extensions(extension.iter().copied()).unwrap();
            add(tar, &path, PICTURE);
        });
        assert!(is_no_backup(&extended), "{extension:?}");
    }
    for kind in [EntryType::XGlobalHeader, EntryType::GNULongName] {
        let extended = first(|tar| {
            let mut before = header(kind, 5);
            before.set_cksum();
            tar.append(&before, &b"other"[..]).unwrap();
            add(tar, &path, PICTURE);
        });
        assert!(is_no_backup(&extended), "{kind:?}");
    }
}

#[test]
fn a_photograph_is_what_its_name_says_and_where_it_belongs() {
    let other = first(|tar| add(tar, &path_of(PICTURE), b"another picture"));
    assert!(matches!(unpacked(&other), Err(UnpackError::Damaged(path)) if path == path_of(PICTURE)));
    let name = digest(PICTURE).to_string();
    for place in [
        format!("photos/{name}"),
        format!("photos/00/00/{name}"),
        path_of(PICTURE).replace("photos", "photos/photos"),
        "photos/ab/cd/abcd".to_owned(),
        "other.db".to_owned(),
    ] {
        let misplaced = first(|tar| add(tar, &place, PICTURE));
        assert!(is_no_backup(&misplaced), "{place}");
    }
}

#[test]
fn every_member_has_to_be_listed_once_with_its_digest() {
    let path = path_of(PICTURE);
    let (database, photo): (Member<'_>, Member<'_>) = ((DATABASE, b"rows"), (&path, PICTURE));
    let whole = second(&[database, photo], &[database, photo]);
    assert!(matches!(unpacked(&whole), Ok(BackupForm::Second)));
    let changed = second(&[(DATABASE, b"r0ws"), photo], &[database, photo]);
    assert!(matches!(unpacked(&changed), Err(UnpackError::Damaged(path)) if path == DATABASE));
    let amiss: [(&[Member<'_>], &[Member<'_>]); 5] = [
        // One is missing, or not listed.
        (&[database], &[database, photo]),
        (&[database, photo], &[database]),
        // One is there twice, or listed twice.
        (&[database, photo, photo], &[database, photo, photo]),
        (&[database, photo], &[database, photo, photo]),
        // A second list.
        (&[database, (DIGESTS, b"")], &[database]),
    ];
    for (members, listed) in amiss {
        assert!(
            unpacked(&second(members, listed)).is_err(),
            "{members:?} {listed:?}"
        );
    }
}

/// A shop's database and photo folder, with one photograph.
fn shop() -> (TempDir, PathBuf, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let (database, photos) = (folder.path().join("waxend.db"), folder.path().join("photos"));
    fs::write(&database, b"rows").unwrap();
    let photo = folder.path().join(path_of(PICTURE));
    fs::create_dir_all(photo.parent().unwrap()).unwrap();
    fs::write(photo, PICTURE).unwrap();
    (folder, database, photos)
}

/// The path of a photograph below the photo folder.
fn below(picture: &[u8]) -> PathBuf {
    Path::new(&path_of(picture))
        .strip_prefix("photos")
        .unwrap()
        .to_owned()
}

/// The names in a folder, sorted.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<_> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_backup_touches_no_file_beside_it_whether_it_succeeds_or_fails() {
    let (folder, database, photos) = shop();
    let place = folder.path().join("backups");
    fs::create_dir(&place).unwrap();
    let (file, outside) = (place.join("shop.tar"), folder.path().join("outside"));
    fs::write(&outside, b"outside").unwrap();
    symlink(&outside, place.join("shop.tar.part")).unwrap();
    fs::write(place.join("shop.tar.db"), b"a neighbour").unwrap();
    let neighbours = names(&place);

    assert!(write(&file, &folder.path().join("none.db"), &photos, &[]).is_err());
    assert_eq!(
        names(&place),
        neighbours,
        "nothing is left of a backup that failed"
    );
    let written = write(&file, &database, &photos, &[below(PICTURE)]).unwrap();
    assert_eq!((written.photos, written.left_out), (1, Vec::new()));
    let before = fs::read(&file).unwrap();
    assert!(
        write(&file, &database, &photos, &[]).is_err(),
        "never over another file"
    );
    assert_eq!(fs::read(&file).unwrap(), before);
    fs::remove_file(&file).unwrap();
    assert_eq!(names(&place), neighbours);
    assert_eq!(fs::read(outside).unwrap(), b"outside");
    assert_eq!(fs::read(place.join("shop.tar.db")).unwrap(), b"a neighbour");
}

#[test]
fn a_damaged_or_missing_photograph_is_left_out_and_the_rest_is_restored() {
    let (folder, database, photos) = shop();
    let damaged = below(b"what it was");
    fs::create_dir_all(photos.join(&damaged).parent().unwrap()).unwrap();
    fs::write(photos.join(&damaged), b"what it waz").unwrap();
    let missing = below(b"missing");
    let file = folder.path().join("shop.tar");
    let all = [damaged.clone(), below(PICTURE), missing.clone()];
    let written = write(&file, &database, &photos, &all).unwrap();
    assert_eq!((written.photos, written.left_out), (1, vec![damaged, missing]));
    let backup = (folder, file);
    assert!(matches!(unpacked(&backup), Ok(BackupForm::Second)));
    let into = backup.0.path().join("into");
    assert_eq!(fs::read(into.join("waxend.db")).unwrap(), b"rows");
    assert_eq!(fs::read(into.join(path_of(PICTURE))).unwrap(), PICTURE);
}

#[test]
fn a_photograph_that_is_damaged_in_the_backup_is_left_out_if_the_folder_has_it() {
    let path = path_of(PICTURE);
    let (database, photo): (Member<'_>, Member<'_>) = ((DATABASE, b"rows"), (&path, PICTURE));
    let flawed: Member<'_> = (&path, b"\xff\xd8\xff a pictuse");
    let backup = second(&[database, flawed], &[database, photo]);
    let (folder, _database, photos) = shop();
    let read = |number: u32| {
        let into = backup.0.path().join(format!("into-{number}"));
        fs::create_dir(&into).unwrap();
        let read = read_beside(&backup.1, &into, Some(&photos), &Disk::default());
        (read, into)
    };
    let (whole, into) = read(1);
    assert_eq!(whole.unwrap().stay, std::slice::from_ref(&path));
    assert_eq!(fs::read(into.join(DATABASE)).unwrap(), b"rows");
    assert!(!into.join(&path).exists());
    // Not if that one is damaged too, or missing.
    let stands = folder.path().join(&path);
    fs::write(&stands, b"another").unwrap();
    assert!(matches!(read(2).0, Err(UnpackError::Damaged(at)) if at == path));
    fs::remove_file(&stands).unwrap();
    assert!(matches!(read(3).0, Err(UnpackError::Damaged(at)) if at == path));
}

/// A file with holes is written out in full: as a sparse member it would be refused by the restore.
#[test]
fn a_database_with_holes_is_backed_up_in_full() {
    let (folder, database, photos) = shop();
    File::create(&database).unwrap().set_len(1 << 20).unwrap();
    let file = folder.path().join("shop.tar");
    write(&file, &database, &photos, &[]).unwrap();
    let backup = (folder, file);
    assert!(matches!(unpacked(&backup), Ok(BackupForm::Second)));
    let copied = fs::read(backup.0.path().join("into/waxend.db")).unwrap();
    assert_eq!(copied, vec![0; 1 << 20]);
}

/// What of a damaged backup is intact can be taken out with `tar` and `sha256sum`.
#[test]
fn other_programs_unpack_and_check_a_backup() {
    let (folder, database, photos) = shop();
    let file = folder.path().join("shop.tar");
    write(&file, &database, &photos, &[below(PICTURE)]).unwrap();
    let out = folder.path().join("out");
    fs::create_dir(&out).unwrap();
    let tar = Command::new("tar")
        .arg("-xf")
        .arg(&file)
        .current_dir(&out)
        .status();
    assert!(tar.unwrap().success());
    let check = || {
        let mut sums = Command::new("sha256sum");
        sums.args(["--check", "--strict", DIGESTS]).current_dir(&out);
        sums.output().unwrap()
    };
    let said = String::from_utf8(check().stdout).unwrap();
    assert_eq!(said.lines().count(), 3, "{said}");
    assert!(said.lines().all(|line| line.ends_with(": OK")), "{said}");
    fs::write(out.join(DATABASE), b"r0ws").unwrap();
    assert!(!check().status.success());
}
