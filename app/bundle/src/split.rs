//! Cuts the lazily loaded pieces out of the app's wasm, before the bindings are made.
//!
//! The app marks the functions that begin a piece (`app/src/screens/lazy.rs`, `app/src/device/lazy.rs`). Code that only
//! one piece needs goes into it, code that several pieces need goes into pieces of its own, and all other code stays in
//! the main module. A script, the link, loads the pieces when the app asks for them.

use std::fs;
use std::path::Path;

use wasm_split_cli_support::{Options, transform};

use crate::error::BundleError;

/// The name by which the app's bindings import the link.
pub const LINK: &str = "./pieces.js";
/// The name by which the link imports the bindings.
pub const MAIN: &str = "./app.js";

/// A module cut into pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Split {
    /// The main module, which is started first; it imports [`LINK`].
    pub main: Vec<u8>,
    /// The pieces, loaded when they are asked for.
    pub pieces: Vec<Piece>,
    /// The script that loads the pieces by name; it imports [`MAIN`].
    pub link: String,
}

/// A piece of the app.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Its file's name: the link has `./<name>`.
    pub name: String,
    /// Its module.
    pub wasm: Vec<u8>,
}

/// Cuts the module, with `folder` for temporary files.
///
/// # Errors
/// [`BundleError::Pieces`] if the module was linked without relocations (see `app/build.rs`).
pub fn split(input: &[u8], folder: &Path) -> Result<Split, BundleError> {
    let refused = |error: &dyn std::fmt::Display| BundleError::Pieces(format!("{error:#}"));
    let main = folder.join("main.wasm");
    let mut options = Options::new(input);
    options.output_dir = folder;
    options.main_out_path = &main;
    options.link_name = LINK;
    options.main_module = MAIN;
    let made = transform(options).map_err(|error| refused(&error))?;
    let read = |path: &Path| fs::read(path).map_err(BundleError::at(path));
    let mut pieces = Vec::new();
    for path in made.split_modules {
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        pieces.push(Piece {
            name,
            wasm: read(&path)?,
        });
    }
    let link = folder.join(LINK);
    Ok(Split {
        main: read(&main)?,
        pieces,
        link: fs::read_to_string(&link).map_err(BundleError::at(&link))?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_module_that_was_not_linked_for_it_is_refused_in_words() {
        let folder = tempfile::tempdir().unwrap();
        let refused = split(b"\0asm\x01\0\0\0", folder.path()).unwrap_err();
        assert!(
            matches!(&refused, BundleError::Pieces(why) if !why.is_empty()),
            "{refused}"
        );
    }
}
