//! Compares photographs with what is noted of them, and mends what is noted.

use sha2::{Digest as _, Sha256};
use shared::sync::messages::MEDIA_TYPES;
use tokio::io::AsyncReadExt;

use crate::error::Error;
use crate::photos::{self, Photos};
use crate::shop::Shop;
use crate::shop::blobs::START;
use crate::store::{BlobHash, BlobRow, BlobTx, LogTx, Store, StoreTx, TxMode};

/// What the photo folder has under the name of a blob.
enum Stored {
    /// Bytes with the SHA-256 that is their name: how many, and the first of them.
    Intact(u64, Vec<u8>),
    /// Other bytes.
    Damaged,
    /// No file.
    Nothing,
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// The fault of a blob, if it has one.
    pub(super) async fn photograph_fault(&self, row: &BlobRow) -> Result<Option<String>, Error> {
        let hash = row.hash;
        if self.erasures().covers_blob(&hash.to_string()) {
            return Ok(Some(format!(
                "photograph {hash} is erased and still noted as here"
            )));
        }
        Ok(match self.stored_photograph(&hash).await? {
            Stored::Nothing => Some(format!(
                "photograph {hash} is missing; a device that has it will bring it again"
            )),
            Stored::Damaged => Some(format!("photograph {hash} is damaged")),
            Stored::Intact(bytes, _) if bytes != row.bytes => Some(format!(
                "photograph {hash} is intact and noted with another length: {}",
                row.bytes
            )),
            Stored::Intact(_, start) if !is_of(&row.media_type, &start) => Some(format!(
                "photograph {hash} is intact and noted as another kind of file"
            )),
            Stored::Intact(..) => None,
        })
    }

    /// Mends what is noted of photographs and voice notes. One whose file is missing or damaged is asked for from the
    /// devices; a damaged file stays until its bytes come, or are erased. Returns what was done, one sentence each.
    ///
    /// # Errors
    /// A failure of the database or of the photo folder.
    pub async fn mend_photographs(&self) -> Result<Vec<String>, Error> {
        let rows = self.begin(TxMode::Read).await?.all_blobs().await?;
        let mut done = Vec::new();
        for row in rows {
            let hash = row.hash;
            if self.erasures().covers_blob(&hash.to_string()) {
                self.destroy(&hash).await?;
                done.push(format!("photograph {hash} was erased and is gone"));
                continue;
            }
            let noted = match self.stored_photograph(&hash).await? {
                Stored::Intact(bytes, start) => noted(hash, bytes, &start),
                Stored::Damaged | Stored::Nothing => None,
            };
            if noted.as_ref() == Some(&row) {
                continue;
            }
            done.push(match &noted {
                Some(_) => format!("photograph {hash} is noted as it is"),
                None => format!("photograph {hash} is asked for from the devices"),
            });
            self.note_again(&hash, noted.as_ref()).await?;
        }
        let found = self.find_photographs().await?;
        done.extend((found > 0).then(|| format!("photographs that were here and not noted: {found}")));
        Ok(done)
    }

    /// Notes those photographs that entries name, that are not noted as here, and whose files are here and intact: a
    /// restored database knows nothing of files that came after the backup. Returns how many they were.
    ///
    /// # Errors
    /// A failure of the database or of the photo folder.
    pub async fn find_photographs(&self) -> Result<usize, Error> {
        let awaited = self.begin(TxMode::Read).await?.awaited(usize::MAX).await?;
        let mut found = 0;
        for hash in awaited {
            if self.erasures().covers_blob(&hash.to_string()) {
                continue;
            }
            if let Stored::Intact(bytes, start) = self.stored_photograph(&hash).await?
                && let Some(row) = noted(hash, bytes, &start)
            {
                self.note_again(&hash, Some(&row)).await?;
                found += 1;
            }
        }
        Ok(found)
    }

    /// Replaces what is noted of a blob; `None` asks the devices for it, if an entry names it.
    async fn note_again(&self, hash: &BlobHash, row: Option<&BlobRow>) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        // As when bytes arrive: an erasure may have come meanwhile.
        if self.erasures().covers_blob(&hash.to_string()) {
            return Ok(());
        }
        tx.miss_blob(hash).await?;
        if let Some(row) = row {
            tx.add_blob(row).await?;
        }
        Ok(tx.commit().await?)
    }

    /// Reads what the photo folder has under this name.
    async fn stored_photograph(&self, hash: &BlobHash) -> Result<Stored, Error> {
        let Some(mut reader) = self.photos.open(hash).await? else {
            return Ok(Stored::Nothing);
        };
        let mut hasher = Sha256::new();
        let (mut bytes, mut start) = (0, Vec::new());
        let mut buffer = vec![0; 64 * 1024];
        loop {
            let read = reader.read(&mut buffer).await?;
            if read == 0 {
                break;
            }
            bytes += read as u64;
            start.extend(buffer[..read].iter().take(START - start.len()));
            hasher.update(&buffer[..read]);
        }
        Ok(match BlobHash(hasher.finalize().into()) == *hash {
            true => Stored::Intact(bytes, start),
            false => Stored::Damaged,
        })
    }
}

/// Whether a file that begins so can be of this media type.
fn is_of(media_type: &str, start: &[u8]) -> bool {
    photos::is_kept(media_type) && photos::agrees(media_type, start)
}

/// What is to be noted of an intact file; `None` if it is of no kind that the shop stores.
fn noted(hash: BlobHash, bytes: u64, start: &[u8]) -> Option<BlobRow> {
    let media_type = MEDIA_TYPES.iter().find(|media_type| is_of(media_type, start))?;
    Some(BlobRow {
        hash,
        media_type: (*media_type).to_owned(),
        bytes,
    })
}
