//! The screens that the first one does not wait for, cut out of the app's wasm before it is bound.
//!
//! The app marks where a piece begins (`app/src/screens/pieces.rs`). What only pieces need goes into them, what several
//! need into pieces of its own, and everything else stays. A script, the link, fetches them when the app asks.

use std::fs;
use std::path::Path;

use wasm_split_cli_support::{Options, transform};

use crate::error::BundleError;

/// The link's name in the app's bindings.
pub const LINK: &str = "./pieces.js";
/// The bindings' name in the link.
pub const MAIN: &str = "./app.js";

/// A module cut into pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Split {
    /// What is started first; it imports [`LINK`].
    pub main: Vec<u8>,
    /// What is fetched when it is asked for.
    pub pieces: Vec<Piece>,
    /// The script that fetches them by their names; it imports [`MAIN`].
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

/// Cuts the module, working in `folder`.
///
/// # Errors
/// [`BundleError::Pieces`] when it was not linked for it (`app/build.rs`).
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
