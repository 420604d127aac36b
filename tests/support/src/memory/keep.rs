//! A photo folder and an erasure ledger in memory.

use std::collections::BTreeMap;
use std::io;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use bytes::Bytes;
use server_core::ledger::{ErasureLedger, LedgerLine};
use server_core::photos::{PhotoDraft, Photos};
use server_core::store::BlobHash;
use shared::log::Erasures;

/// Photographs in memory. Clones are the same folder.
#[derive(Debug, Clone, Default)]
pub struct MemoryPhotos(Arc<Mutex<BTreeMap<BlobHash, Bytes>>>);

/// A file that is being received.
#[derive(Debug)]
pub struct MemoryDraft {
    photos: MemoryPhotos,
    bytes: Vec<u8>,
}

impl MemoryPhotos {
    /// A copy of the folder's present state.
    pub fn snapshot(&self) -> BTreeMap<BlobHash, Bytes> {
        self.lock().clone()
    }

    /// Puts a former state of the folder back.
    pub fn roll_back(&self, snapshot: &BTreeMap<BlobHash, Bytes>) {
        *self.lock() = snapshot.clone();
    }

    fn lock(&self) -> MutexGuard<'_, BTreeMap<BlobHash, Bytes>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl PhotoDraft for MemoryDraft {
    async fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.bytes.extend_from_slice(bytes);
        Ok(())
    }

    async fn keep(self, hash: &BlobHash) -> io::Result<()> {
        self.photos.lock().insert(*hash, self.bytes.into());
        Ok(())
    }
}

impl Photos for MemoryPhotos {
    type Draft = MemoryDraft;
    type Reader = io::Cursor<Bytes>;

    async fn draft(&self) -> io::Result<MemoryDraft> {
        Ok(MemoryDraft {
            photos: self.clone(),
            bytes: Vec::new(),
        })
    }

    async fn length(&self, hash: &BlobHash) -> io::Result<Option<u64>> {
        Ok(self.lock().get(hash).map(|bytes| bytes.len() as u64))
    }

    async fn open(&self, hash: &BlobHash) -> io::Result<Option<io::Cursor<Bytes>>> {
        Ok(self.lock().get(hash).cloned().map(io::Cursor::new))
    }

    async fn remove(&self, hash: &BlobHash) -> io::Result<()> {
        self.lock().remove(hash);
        Ok(())
    }

    async fn try_write(&self) -> io::Result<()> {
        Ok(())
    }
}

/// An erasure ledger in memory. Clones share it; putting back a former state of a database does not change it.
#[derive(Debug, Clone, Default)]
pub struct MemoryLedger(Arc<Mutex<Vec<LedgerLine>>>);

impl ErasureLedger for MemoryLedger {
    fn append(&self, lines: &[LedgerLine]) -> io::Result<()> {
        self.0
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .extend_from_slice(lines);
        Ok(())
    }

    fn lines(&self) -> io::Result<Vec<LedgerLine>> {
        Ok(self.0.lock().unwrap_or_else(PoisonError::into_inner).clone())
    }

    fn blank(&self, erasures: &Erasures) -> io::Result<()> {
        let mut lines = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        for line in lines.iter_mut() {
            line.blank(erasures);
        }
        Ok(())
    }
}
