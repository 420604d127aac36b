//! The hand-written files of a build.

use std::fs;
use std::path::Path;

use crate::error::BundleError;

/// The pages, style sheets and service worker as they are written, before file names are hashed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sources {
    /// `app/index.html`.
    pub index: String,
    /// `app/assets/manifest.webmanifest`.
    pub manifest: String,
    /// `app/assets/sw.js`, without its version and asset list.
    pub worker: String,
    /// The style sheets of `app/assets/css`, joined in the order of their names.
    pub css: String,
}

impl Sources {
    /// Reads them from the app's source folder.
    pub fn read() -> Result<Self, BundleError> {
        let app = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
        let text = |path: &Path| fs::read_to_string(path).map_err(BundleError::at(path));
        Ok(Self {
            index: text(&app.join("index.html"))?,
            manifest: text(&app.join("assets/manifest.webmanifest"))?,
            worker: text(&app.join("assets/sw.js"))?,
            css: css(&app.join("assets/css"))?,
        })
    }
}

fn css(folder: &Path) -> Result<String, BundleError> {
    let mut sheets = Vec::new();
    for entry in fs::read_dir(folder).map_err(BundleError::at(folder))? {
        sheets.push(entry.map_err(BundleError::at(folder))?.path());
    }
    sheets.retain(|path| path.extension().is_some_and(|extension| extension == "css"));
    sheets.sort();
    sheets
        .iter()
        .map(|path| fs::read_to_string(path).map_err(BundleError::at(path)))
        .collect()
}
