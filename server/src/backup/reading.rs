//! Unpacks a backup and checks it.

use std::fs::File;
use std::io::{self, BufReader, Read};
use std::path::Path;

use server_core::store::BlobHash;
use tar::{Archive, EntryType, Header};

use super::members::{
    DATABASE, DIGESTS, DigestList, END, FIRST, HashingReader, LABEL, PHOTOS, SECOND, digest, intact,
};
use crate::disk::Disk;

/// The versions of the format.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BackupForm {
    /// Of Waxend 0.1.0, without digests. Whether the database is as it was backed up is not known.
    First,
    /// With the digest of every member.
    Second,
}

/// What was unpacked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unpacked {
    /// The version of the format.
    pub form: BackupForm,
    /// The photographs that are damaged in the backup, and were left out because the photo folder has them.
    pub stay: Vec<String>,
}

/// Why a backup was not unpacked.
#[derive(Debug, thiserror::Error)]
pub enum UnpackError {
    /// The file is not a complete Waxend backup.
    #[error("not a complete Waxend backup")]
    NotABackup,
    /// This member of the backup is not what was backed up.
    #[error("{0} in the backup is damaged")]
    Damaged(String),
    /// The backup could not be read, or its content not written.
    #[error(transparent)]
    Disk(#[from] io::Error),
}

/// Unpacks a backup into an empty folder. Every member is compared with its digest, and every photograph with its name.
///
/// # Errors
/// [`UnpackError`]; the folder may then hold some of the backup's files.
pub fn read(file: &Path, into: &Path, disk: &Disk) -> Result<BackupForm, UnpackError> {
    Ok(read_beside(file, into, None, disk)?.form)
}

/// As [`read`]. A photograph that is damaged in the backup is left out if it is intact in the photo folder `photos`.
///
/// # Errors
/// As [`read`].
pub fn read_beside(
    file: &Path,
    into: &Path,
    photos: Option<&Path>,
    disk: &Disk,
) -> Result<Unpacked, UnpackError> {
    let mut archive = Archive::new(BufReader::new(File::open(file)?));
    // In a raw reading, what extends the next member's header (long names, PAX) comes as a member of its own. A backup
    // has no such member, so none can change the name, the size or the kind of another one.
    let mut members = archive.entries()?.raw(true);
    let mut label = members.next().ok_or(UnpackError::NotABackup)?.map_err(torn)?;
    if plain_path(label.header())? != LABEL {
        return Err(UnpackError::NotABackup);
    }
    let form = form(&mut label)?;
    let mut unpacking = Unpacking {
        into,
        photos,
        disk,
        digests: DigestList::default(),
        stay: Vec::new(),
    };
    unpacking.digests.add(&digest(SECOND), LABEL);
    let mut may_end = form == BackupForm::First;
    for entry in members {
        let mut entry = entry.map_err(torn)?;
        let (path, size) = (plain_path(entry.header())?, entry.size());
        match path.as_str() {
            END if may_end => {
                return Ok(Unpacked {
                    form,
                    stay: unpacking.stay,
                });
            }
            DIGESTS if !may_end => {
                unpacking.compare(&mut entry)?;
                may_end = true;
            }
            // Nothing but the end follows the digests.
            _ if may_end && form == BackupForm::Second => return Err(UnpackError::NotABackup),
            path => unpacking.unpack(&mut entry, size, path)?,
        }
    }
    Err(UnpackError::NotABackup)
}

/// The version of the format, from the content of the first member.
fn form(label: &mut impl Read) -> Result<BackupForm, UnpackError> {
    let mut text = Vec::new();
    label
        .take(SECOND.len() as u64 + 1)
        .read_to_end(&mut text)
        .map_err(torn)?;
    match text.as_slice() {
        FIRST => Ok(BackupForm::First),
        SECOND => Ok(BackupForm::Second),
        _ => Err(UnpackError::NotABackup),
    }
}

/// The path of a member. A backup holds only regular files: a sparse file, for example, could unpack to any size.
fn plain_path(header: &Header) -> Result<String, UnpackError> {
    if header.entry_type() != EntryType::Regular {
        return Err(UnpackError::NotABackup);
    }
    String::from_utf8(header.path_bytes().into_owned()).map_err(|_| UnpackError::NotABackup)
}

/// The digest that a photograph must have, from its path `photos/ab/cd/<digest>`. No other path is accepted.
fn promised(path: &str) -> Result<BlobHash, UnpackError> {
    let name = path.rsplit('/').next().unwrap_or_default();
    let hash: BlobHash = name.parse().map_err(|_| UnpackError::NotABackup)?;
    let place = format!("{PHOTOS}/{}/{}/{name}", &name[..2], &name[2..4]);
    (path == place).then_some(hash).ok_or(UnpackError::NotABackup)
}

/// The tar reader reports these kinds when the file ends in the middle of a member or is no tar file. A file is there
/// already if the backup has the same member twice.
fn torn(error: io::Error) -> UnpackError {
    match error.kind() {
        io::ErrorKind::Other | io::ErrorKind::UnexpectedEof | io::ErrorKind::AlreadyExists => {
            UnpackError::NotABackup
        }
        _ => UnpackError::Disk(error),
    }
}

/// A backup while it is unpacked.
struct Unpacking<'a> {
    into: &'a Path,
    /// The photo folder whose photographs may replace damaged ones.
    photos: Option<&'a Path>,
    disk: &'a Disk,
    /// The members so far, as they were backed up.
    digests: DigestList,
    /// Those that were left out.
    stay: Vec<String>,
}

impl Unpacking<'_> {
    /// Unpacks one member: the database or a photograph.
    fn unpack(&mut self, entry: &mut impl Read, size: u64, path: &str) -> Result<(), UnpackError> {
        let promised = match path {
            DATABASE => None,
            _ => Some(promised(path)?),
        };
        let place = self.into.join(path);
        if let Some(folder) = place.parent() {
            self.disk.create_folder(folder)?;
        }
        let mut content = HashingReader::new(entry);
        self.disk.write(&place, &mut content).map_err(torn)?;
        let (digest, bytes) = content.finish();
        if bytes != size {
            return Err(UnpackError::NotABackup);
        }
        match promised {
            Some(promised) if promised != digest => self.leave_out(&place, path, &promised),
            _ => {
                self.digests.add(&digest, path);
                Ok(())
            }
        }
    }

    /// Removes a damaged photograph that was unpacked, if the photo folder has it intact.
    fn leave_out(&mut self, place: &Path, path: &str, promised: &BlobHash) -> Result<(), UnpackError> {
        let damaged = || UnpackError::Damaged(path.to_owned());
        let below = Path::new(path).strip_prefix(PHOTOS).map_err(|_| damaged())?;
        let stands = self.photos.map(|photos| intact(&photos.join(below)));
        if !matches!(stands, Some(Ok(Some(_)))) {
            return Err(damaged());
        }
        self.disk.remove_file(place)?;
        self.digests.add(promised, path);
        self.stay.push(path.to_owned());
        Ok(())
    }

    /// Compares the list of digests with the members that were unpacked.
    fn compare(&self, list: &mut impl Read) -> Result<(), UnpackError> {
        let ours = self.digests.text();
        let mut listed = Vec::new();
        list.take(ours.len() as u64 + 1)
            .read_to_end(&mut listed)
            .map_err(torn)?;
        if listed == ours.as_bytes() {
            return Ok(());
        }
        let listed = String::from_utf8_lossy(&listed);
        let mut pairs = ours.lines().zip(listed.lines());
        let other = pairs.find(|(ours, listed)| ours != listed);
        match other.and_then(|(ours, _)| ours.split_once("  ")) {
            Some((_, path)) if ours.lines().count() == listed.lines().count() => {
                Err(UnpackError::Damaged(path.to_owned()))
            }
            _ => Err(UnpackError::NotABackup),
        }
    }
}
