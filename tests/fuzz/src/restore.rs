//! The server's backup file: whatever it contains, only files of a backup are written, and only where they belong. What is
//! in it is what its list of digests says, or it is refused.

use std::collections::BTreeSet;
use std::io;
use std::path::Path;

use server::backup::{self, BackupForm, UnpackError};
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

/// The path and the content of a member.
type Member = (String, Vec<u8>);

/// A backup with a list of digests that fits it, or does not.
#[derive(Default)]
struct Recipe {
    members: Vec<Member>,
    /// The path of each member that is listed, and its digest.
    listed: Vec<(String, String)>,
}

impl Recipe {
    /// Reads members one after another: a byte for what it is and what is wrong with it, two for the length of its content,
    /// and its content.
    fn read(data: &[u8]) -> Self {
        let mut recipe = Self::default();
        let mut rest = data;
        for _ in 0..32 {
            let [what, high, low, more @ ..] = rest else {
                break;
            };
            let length = usize::from(u16::from_be_bytes([*high, *low]));
            let (content, after) = more.split_at(length.min(more.len()));
            rest = after;
            recipe.add(*what, content);
        }
        recipe
    }

    fn add(&mut self, what: u8, content: &[u8]) {
        let digest = sha256(content);
        let path = match what % 2 {
            0 => format!("photos/{}/{}/{digest}", &digest[..2], &digest[2..4]),
            _ => "waxend.db".to_owned(),
        };
        let other = [content, b"x"].concat();
        let whole = (path.clone(), content.to_vec());
        let line = (path.clone(), digest);
        let (member, lines) = match what / 2 % 8 {
            // It is not in the file, not in the list, or twice in the list.
            1 => (None, vec![line]),
            2 => (Some(whole), Vec::new()),
            3 => (Some(whole), vec![line.clone(), line]),
            // It was changed, or its line was.
            4 => (Some((path, other)), vec![line]),
            5 => (Some(whole), vec![(path, sha256(&other))]),
            _ => (Some(whole), vec![line]),
        };
        self.members.extend(member);
        self.listed.extend(lines);
    }

    /// Whether every member is listed as it is, and once.
    fn is_sound(&self) -> bool {
        let are: Vec<_> = self
            .members
            .iter()
            .map(|(path, content)| (path.clone(), sha256(content)))
            .collect();
        let paths: BTreeSet<_> = self.members.iter().map(|(path, _)| path).collect();
        are == self.listed && paths.len() == self.members.len()
    }

    /// The bytes of the file, in the second form.
    fn file(&self) -> Vec<u8> {
        let label = ("waxend-backup".to_owned(), b"waxend backup 2\n".to_vec());
        let of_label = (label.0.clone(), sha256(&label.1));
        let lines = std::iter::once(&of_label).chain(&self.listed);
        let list: String = lines
            .map(|(path, digest)| format!("{digest}  {path}\n"))
            .collect();
        let end = [
            ("waxend-digests".to_owned(), list.into_bytes()),
            ("waxend-end".to_owned(), Vec::new()),
        ];
        let mut tar = tar::Builder::new(Vec::new());
        for (path, content) in std::iter::once(&label).chain(&self.members).chain(&end) {
            let mut header = tar::Header::new_gnu();
            header.set_entry_type(tar::EntryType::Regular);
            header.set_size(content.len() as u64);
            header.set_mode(0o600);
            tar.append_data(&mut header, path, content.as_slice()).unwrap();
        }
        tar.into_inner().unwrap()
    }
}

/// The input: a backup file, and what a backup of the second form is made of.
pub(crate) fn restore(data: &[u8]) {
    // What of it is true is for the recipe: bytes at random have no digests.
    drop(unpack(data));
    let recipe = Recipe::read(data);
    let (folder, read) = unpack(&recipe.file());
    if !recipe.is_sound() {
        assert!(read.is_err(), "it is not what was backed up");
        return;
    }
    assert!(matches!(read, Ok(BackupForm::Second)), "{read:?}");
    for (path, content) in &recipe.members {
        let unpacked = std::fs::read(folder.path().join("into").join(path)).unwrap();
        assert!(&unpacked == content, "{path}");
    }
}

/// Unpacks a backup file below the folder `into` of a new one. Panics if anything is written that does not belong there.
fn unpack(data: &[u8]) -> (TempDir, Result<BackupForm, UnpackError>) {
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
    (folder, read)
}

/// What a backup is made of: a database with an entry of every kind, and two photographs. What is wrong with the last one is
/// told by a number.
fn recipe(wrong: u8) -> Vec<u8> {
    let entries = crate::seeds::entries().concat();
    let database = &entries[..entries.len().min(usize::from(u16::MAX))];
    let of = |what: u8, content: &[u8]| {
        let length = u16::try_from(content.len()).unwrap().to_be_bytes();
        [&[what][..], &length, content].concat()
    };
    let first = of(0, b"\xff\xd8\xff a picture");
    let second = of(2 * wrong, b"\xff\xd8\xff another one");
    [of(1, database), first, second].concat()
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
    odd.extend((0..6).map(recipe));
    odd.push([recipe(0), recipe(0)].concat());
    odd
}
