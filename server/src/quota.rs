//! How much the server takes in: entries, photographs, and the space that it leaves free on the disk. Beyond that, pushes
//! and photographs are refused; they stay on the devices, and reading goes on.

use std::path::PathBuf;

use clap::Args;
use rustix::fs::statvfs;
use tokio::sync::Mutex;
use tracing::warn;

use server_core::error::Error;
use server_core::photos::Photos;
use server_core::shop::Shop;
use server_core::store::Store;

/// For the flags and variables see `waxend serve --help`.
#[derive(Debug, Clone, Copy, Args)]
pub struct QuotaArgs {
    /// Entries of the shop; pushes beyond are refused. Not given: as many as there is room for.
    #[arg(long, env = "WAXEND_QUOTA_ENTRIES", value_name = "N")]
    pub quota_entries: Option<u64>,
    /// Photographs and voice notes of the shop, in MB; others are refused. Not given: as many as there is room for.
    #[arg(long, env = "WAXEND_QUOTA_PHOTOS", value_name = "MB")]
    pub quota_photos: Option<u64>,
    /// Space that devices leave free on the disk, in MB, so that erasing, joining and backups still work.
    #[arg(long, env = "WAXEND_RESERVE", default_value = "100", value_name = "MB")]
    pub reserve: u64,
}

/// So many entries more than others an erasure may be pushed as: nobody should have to wait with one until a quota is
/// raised.
const MORE_FOR_ERASURES: u64 = 1_000;
/// An erasure may use all of the reserve but this part.
const LEFT_BY_ERASURES: u64 = 4;
/// Bytes of a MB.
const MB: u64 = 1_000_000;

/// What the server takes in.
#[derive(Debug)]
pub struct Quota {
    entries: Option<u64>,
    /// In bytes.
    photos: Option<u64>,
    /// In bytes.
    reserve: u64,
    /// The photographs may be on a disk of their own.
    folders: [PathBuf; 2],
    /// The bytes of the photographs, or more, since some were destroyed, or did not arrive whole; `None` before they were
    /// counted.
    photo_bytes: Mutex<Option<u64>>,
}

impl Quota {
    /// What these flags allow for a shop in these folders, of its database and of its photographs.
    pub fn new(args: &QuotaArgs, folders: [PathBuf; 2]) -> Self {
        Self {
            entries: args.quota_entries,
            photos: args.quota_photos.map(|quota| quota.saturating_mul(MB)),
            reserve: args.reserve.saturating_mul(MB),
            folders,
            photo_bytes: Mutex::default(),
        }
    }

    /// Whether a push may be taken. `erases`: whether it has nothing but erasures.
    ///
    /// # Errors
    /// [`Error::DiskFull`], [`Error::QuotaFull`], or a failure of the database.
    pub async fn admit_entries<S: Store, P: Photos>(
        &self,
        shop: &Shop<S, P>,
        erases: bool,
    ) -> Result<(), Error> {
        let (reserve, more) = match erases {
            true => (self.reserve / LEFT_BY_ERASURES, MORE_FOR_ERASURES),
            false => (self.reserve, 0),
        };
        self.leaves(reserve)?;
        match self.entries {
            Some(most) if shop.has_entries(most.saturating_add(more)).await? => Err(Error::QuotaFull),
            _ => Ok(()),
        }
    }

    /// Whether a photograph of so many bytes may be taken, which then counts.
    ///
    /// # Errors
    /// [`Error::DiskFull`], [`Error::QuotaFull`], or a failure of the database.
    pub async fn admit_photo<S: Store, P: Photos>(&self, shop: &Shop<S, P>, bytes: u64) -> Result<(), Error> {
        self.disk()?;
        let Some(most) = self.photos else {
            return Ok(());
        };
        let mut counted = self.photo_bytes.lock().await;
        let fits = |before: u64| before.saturating_add(bytes) <= most;
        let before = match *counted {
            Some(before) if fits(before) => before,
            _ => shop.photo_bytes().await?,
        };
        *counted = Some(if fits(before) { before + bytes } else { before });
        if fits(before) {
            Ok(())
        } else {
            Err(Error::QuotaFull)
        }
    }

    /// Whether the disk has as much free space as is to be left.
    ///
    /// # Errors
    /// [`Error::DiskFull`].
    pub fn disk(&self) -> Result<(), Error> {
        self.leaves(self.reserve)
    }

    fn leaves(&self, reserve: u64) -> Result<(), Error> {
        let is_short = |folder: &PathBuf| match statvfs(folder) {
            Ok(disk) => disk.f_bavail.saturating_mul(disk.f_frsize) < reserve,
            Err(error) => {
                warn!(%error, folder = %folder.display(), "cannot tell how much space is free");
                false
            }
        };
        if self.folders.iter().any(is_short) {
            return Err(Error::DiskFull);
        }
        Ok(())
    }
}
