//! The site on disk: each file, and beside it the compressed forms that the server sends.

use std::fs;
use std::io::{Error, Write};
use std::path::Path;

use flate2::Compression;
use flate2::write::GzEncoder;

use crate::error::BundleError;
use crate::site::Site;

/// The size of one file in transfer, in bytes. A compressed form that is not smaller than the file is not kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weight {
    /// Path in the site.
    pub path: String,
    /// Uncompressed.
    pub raw: usize,
    /// With gzip at level 9.
    pub gzip: Option<usize>,
    /// With brotli at level 11.
    pub brotli: Option<usize>,
}

impl Weight {
    /// The size that is sent to a browser that accepts brotli.
    pub fn sent(&self) -> usize {
        self.brotli.unwrap_or(self.raw)
    }
}

/// Which compressed forms are written beside each file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Forms {
    /// Gzip and brotli, which the server sends.
    Packed,
    /// None: for builds that only tests use.
    Plain,
}

/// Replaces the folder's content by the site. Returns the size of each file.
pub fn write(site: &Site, folder: &Path, forms: Forms) -> Result<Vec<Weight>, BundleError> {
    // Written to a folder beside it which is then renamed, so that an incomplete build is never served.
    let part = folder.with_extension("part");
    clear(&part)?;
    let weights = site
        .files()
        .map(|(path, bytes)| write_one(&part, path, bytes, forms))
        .collect::<Result<_, _>>()?;
    clear(folder)?;
    fs::rename(&part, folder).map_err(BundleError::at(folder))?;
    Ok(weights)
}

fn clear(folder: &Path) -> Result<(), BundleError> {
    if folder.exists() {
        fs::remove_dir_all(folder).map_err(BundleError::at(folder))
    } else {
        Ok(())
    }
}

fn write_one(folder: &Path, path: &str, bytes: &[u8], forms: Forms) -> Result<Weight, BundleError> {
    let file = folder.join(path.trim_start_matches('/'));
    if let Some(parent) = file.parent() {
        fs::create_dir_all(parent).map_err(BundleError::at(parent))?;
    }
    fs::write(&file, bytes).map_err(BundleError::at(&file))?;
    if forms == Forms::Plain {
        return Ok(Weight {
            path: path.into(),
            raw: bytes.len(),
            gzip: None,
            brotli: None,
        });
    }
    let failed = |source| BundleError::Compression {
        name: path.into(),
        source,
    };
    let gzip = keep(&file, "gz", &gzip(bytes).map_err(failed)?, bytes.len())?;
    let brotli = keep(&file, "br", &brotli(bytes).map_err(failed)?, bytes.len())?;
    Ok(Weight {
        path: path.into(),
        raw: bytes.len(),
        gzip,
        brotli,
    })
}

/// Writes the compressed form as `<file>.<suffix>` if it is smaller than the original.
fn keep(file: &Path, suffix: &str, packed: &[u8], raw: usize) -> Result<Option<usize>, BundleError> {
    if packed.len() >= raw {
        return Ok(None);
    }
    let mut name = file.as_os_str().to_owned();
    name.push(".");
    name.push(suffix);
    let path = Path::new(&name);
    fs::write(path, packed).map_err(BundleError::at(path))?;
    Ok(Some(packed.len()))
}

fn gzip(bytes: &[u8]) -> Result<Vec<u8>, Error> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes)?;
    encoder.finish()
}

fn brotli(bytes: &[u8]) -> Result<Vec<u8>, Error> {
    let params = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 22,
        size_hint: bytes.len(),
        ..Default::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &*bytes, &mut packed, &params)?;
    Ok(packed)
}
