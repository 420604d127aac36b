//! The errors of bundling, and what to do about them.

use std::path::{Path, PathBuf};

/// A bundle that could not be made.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum BundleError {
    /// A file could not be read or written.
    #[error("{path}: {source}")]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// wasm-bindgen refused the module.
    #[error("no bindings for the wasm: {0}")]
    Bindings(String),
    /// The app's wasm could not be cut into the first screen and the rest.
    #[error("the wasm cannot be cut into pieces: {0}")]
    Pieces(String),
    /// The app uses a JavaScript snippet of its own, which the bundler does not support.
    #[error("the wasm wants JavaScript snippets ({0}), which the bundler does not carry yet")]
    Snippets(String),
    /// `wasm-opt` is missing or failed.
    #[error("{command}: {reason} (it comes with `npm install` in app/bundle)")]
    Optimiser {
        /// The command as it was run.
        command: String,
        /// What it said.
        reason: String,
    },
    /// A page names an asset that does not exist.
    #[error("{page} names {asset}, which is no asset of this build")]
    UnknownAsset {
        /// The file that names it.
        page: String,
        /// What it names.
        asset: String,
    },
    /// An icon's drawing is not valid.
    #[error("the icon cannot be drawn: {0}")]
    Icon(String),
    /// Compression failed, which happens only when memory is full.
    #[error("{name} could not be compressed: {source}")]
    Compression {
        /// The asset.
        name: String,
        /// What the compressor said.
        source: std::io::Error,
    },
    /// A module has become larger than a phone on a slow connection should have to load.
    #[error(
        "{what}: {actual} bytes in brotli, over the budget of {budget}: see what the last change brought in"
    )]
    OverBudget {
        /// The module.
        what: &'static str,
        /// Bytes after brotli.
        actual: usize,
        /// Bytes allowed.
        budget: usize,
    },
}

impl BundleError {
    /// For `map_err` on file operations: adds the path, which the system's error does not contain.
    pub fn at(path: &Path) -> impl FnOnce(std::io::Error) -> Self {
        let path = path.to_owned();
        move |source| Self::File { path, source }
    }
}
