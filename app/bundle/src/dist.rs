//! The site on disk: each file, and beside it the compressed forms that the server sends instead.

use std::fs;
use std::io::{Error, Write};
use std::path::Path;

use flate2::Compression;
use flate2::write::GzEncoder;

use crate::error::BundleError;
use crate::site::Site;

/// What one file weighs on the way to a phone, in bytes. A compressed form that saves nothing is not kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Weight {
    /// Path in the site.
    pub path: String,
    /// As it is.
    pub raw: usize,
    /// After gzip 9.
    pub gzip: Option<usize>,
    /// After brotli 11.
    pub brotli: Option<usize>,
}

impl Weight {
    /// What a browser that takes brotli is sent.
    pub fn sent(&self) -> usize {
        self.brotli.unwrap_or(self.raw)
    }
}

/// What is written beside each file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Forms {
    /// The compressed forms that the server sends.
    Packed,
    /// Nothing: for builds that only tests see.
    Plain,
}

/// Replaces the folder's content by the site.
pub fn write(site: &Site, folder: &Path, forms: Forms) -> Result<Vec<Weight>, BundleError> {
    // Laid out beside it and moved, so that nobody is ever served half a build.
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
