//! Writes a backup.

use std::fs::{self, File};
use std::io::{self, BufWriter, Read, Write};
use std::path::{Path, PathBuf};

use server_core::world::{RealWorld, World};
use tar::{Builder, EntryType, Header};

use super::members::{DATABASE, DIGESTS, DigestList, END, HashingReader, LABEL, PHOTOS, SECOND, intact};

/// What a backup holds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Written {
    /// How many photographs.
    pub photos: usize,
    /// The photographs that are not in it, because their files are missing or damaged.
    pub left_out: Vec<PathBuf>,
}

/// Writes a backup. `photos` are paths below `root`. A photograph whose bytes are not those that its name promises is
/// left out: a restore refuses it, and one that is missing is asked for again from the devices.
///
/// # Errors
/// When something cannot be read or written; no backup file is left then.
pub fn write(file: &Path, database: &Path, root: &Path, photos: &[PathBuf]) -> io::Result<Written> {
    let draft = beside(file, "part");
    let out = File::create_new(&draft)?;
    let written = pack(out, database, root, photos)
        // The file gets the requested name only when it is complete.
        .and_then(|written| fs::hard_link(&draft, file).map(|()| written));
    // The draft is removed after a failure too: on a full disk it would only take up room.
    let removed = fs::remove_file(&draft);
    let written = written?;
    removed?;
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => File::open(folder)?.sync_all()?,
        _ => File::open(".")?.sync_all()?,
    }
    Ok(written)
}

/// A path beside this one for a file that is needed for a while, with this ending. It is random, so that no other file
/// has it.
pub fn beside(file: &Path, ending: &str) -> PathBuf {
    let world: &dyn World = &RealWorld;
    let random = hex::encode(world.bytes::<8>());
    file.with_added_extension(format!("{random}.{ending}"))
}

fn pack(out: File, database: &Path, root: &Path, photos: &[PathBuf]) -> io::Result<Written> {
    let mut packing = Packing {
        tar: Builder::new(BufWriter::new(out)),
        digests: DigestList::default(),
    };
    packing.add(LABEL, SECOND.len() as u64, SECOND)?;
    let database = File::open(database)?;
    packing.add(DATABASE, database.metadata()?.len(), database)?;
    let mut written = Written::default();
    for photo in photos {
        match intact(&root.join(photo))? {
            Some(bytes) => {
                let path = format!("{PHOTOS}/{}", photo.display());
                packing.add(&path, bytes.len() as u64, &*bytes)?;
                written.photos += 1;
            }
            None => written.left_out.push(photo.clone()),
        }
    }
    let digests = packing.digests.text().to_owned();
    packing.add(DIGESTS, digests.len() as u64, digests.as_bytes())?;
    packing.add(END, 0, io::empty())?;
    let mut out = packing.tar.into_inner()?;
    out.flush()?;
    out.get_ref().sync_all()?;
    Ok(written)
}

/// A backup while it is written.
struct Packing {
    tar: Builder<BufWriter<File>>,
    digests: DigestList,
}

impl Packing {
    /// Adds a member. It is always a plain file: the tar library by itself would write one with holes as a sparse
    /// member, which a restore refuses.
    fn add(&mut self, path: &str, size: u64, content: impl Read) -> io::Result<()> {
        let mut header = Header::new_gnu();
        header.set_entry_type(EntryType::Regular);
        header.set_size(size);
        header.set_mode(0o600);
        let mut content = HashingReader::new(content.take(size));
        self.tar.append_data(&mut header, path, &mut content)?;
        let (digest, bytes) = content.finish();
        if bytes != size {
            return Err(io::Error::other(format!(
                "{path} became shorter while it was read"
            )));
        }
        self.digests.add(&digest, path);
        Ok(())
    }
}
