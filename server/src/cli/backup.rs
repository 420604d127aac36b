//! `waxend backup`.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use super::check::tell;
use super::{CliError, doing, existing, say};
use crate::backup::{self, Written};
use crate::config::Cli;
use crate::http::Home;
use server_core::error::Error;
use server_core::store::{BlobTx, Store, TxMode};

/// Writes the database and the photographs into one file; the erasure ledger stays out. Damage that is noticed is
/// told; the backup then has all that is intact.
pub(super) async fn backup(cli: &Cli, file: &Path) -> Result<(), CliError> {
    if file.exists() {
        return Err(doing(format!("making {}", file.display()))(
            io::ErrorKind::AlreadyExists.into(),
        ));
    }
    let data = existing(cli)?;
    let shop = data.open().await?;
    let written = write(&shop, &data.photos(), file).await;
    shop.store().close().await;
    let (photos, wrong) = written?;
    say(&format!(
        "{} holds the shop's records and {photos} photographs.",
        file.display(),
    ));
    tell(&wrong)
}

/// Writes the backup. Returns how many photographs it has, and what is wrong with what was backed up.
async fn write(shop: &Home, root: &Path, file: &Path) -> Result<(usize, Vec<String>), CliError> {
    let mut wrong = shop.store().faults().await.map_err(Error::from)?;
    let copy = backup::beside(file, "db");
    // It is created here, so that what is removed afterwards is certainly this process's own.
    File::create_new(&copy).map_err(doing(format!("writing {}", copy.display())))?;
    let written = pack(shop, root, file, &copy).await;
    // After a failure too: on a full disk it would only take up room.
    let removed = fs::remove_file(&copy);
    let Written { photos, left_out } = written?;
    removed.map_err(doing(format!("removing {}", copy.display())))?;
    // A photograph that was erased while the backup was written is rightly not in it.
    let still_listed = listed(shop, root).await?;
    let lost = left_out.iter().filter(|photo| still_listed.contains(photo));
    wrong.extend(lost.map(|photo| {
        let name = photo.file_name().unwrap_or_default().to_string_lossy();
        format!("photograph {name} is missing or damaged, and is not in the backup")
    }));
    Ok((photos, wrong))
}

/// Copies the database to `copy`, and packs it with the photographs.
async fn pack(shop: &Home, root: &Path, file: &Path, copy: &Path) -> Result<Written, CliError> {
    // The database is copied first. A photograph is stored before the row that lists it, so none that is listed will be
    // missing.
    shop.store().copy_to(copy).await.map_err(Error::from)?;
    let photos = listed(shop, root).await?;
    backup::write(file, copy, root, &photos).map_err(doing(format!("writing {}", file.display())))
}

/// The paths of the photographs that the database lists, below the photo folder.
async fn listed(shop: &Home, root: &Path) -> Result<Vec<PathBuf>, CliError> {
    let mut tx = shop.store().begin(TxMode::Read).await.map_err(Error::from)?;
    let rows = tx.all_blobs().await.map_err(Error::from)?;
    let below = rows.iter().map(|row| shop.photos().path(&row.hash));
    let below = below.filter_map(|path| path.strip_prefix(root).ok().map(Path::to_path_buf));
    Ok(below.collect())
}
