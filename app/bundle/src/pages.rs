//! The hand-written files of a build.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

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
    /// The drawings of `app/assets/drawings`: a JSON object of each file's text by its name without the extension.
    pub drawings: String,
    /// `app/assets/fonts/serif.css`, the typeface of the care card.
    pub typeface: String,
    /// The style sheets of `app/assets/css`, each in a cascade layer named after it, and that of the care card.
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
            drawings: drawings(&app.join("assets/drawings"))?,
            typeface: text(&app.join("assets/fonts/serif.css"))?,
            css: css(&app.join("assets/css"), &text(&app.join("src/card/card.css"))?)?,
        })
    }
}

/// The files of a folder with this extension, in the order of their names.
fn files(folder: &Path, extension: &str) -> Result<Vec<PathBuf>, BundleError> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).map_err(BundleError::at(folder))? {
        found.push(entry.map_err(BundleError::at(folder))?.path());
    }
    found.retain(|path| path.extension().is_some_and(|found| found == extension));
    found.sort();
    Ok(found)
}

/// The name of a file without its extension.
fn stem(path: &Path) -> String {
    path.file_stem()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned()
}

/// Joins the drawings of a folder to one JSON object.
fn drawings(folder: &Path) -> Result<String, BundleError> {
    let mut all = BTreeMap::new();
    for path in files(folder, "svg")? {
        let svg = fs::read_to_string(&path).map_err(BundleError::at(&path))?;
        // Line breaks between elements are for people who edit the file.
        all.insert(stem(&path), svg.lines().map(str::trim).collect::<String>());
    }
    Ok(serde_json::json!(all).to_string())
}

/// Joins the style sheets of a folder: `40-bench.css` becomes the layer `bench`. Their numbers give the order of the layers,
/// so that a screen wins over the parts and these over the base, however specific a selector is. The care card is in no
/// layer, because customers also read it in browsers that are older than layers.
fn css(folder: &Path, card: &str) -> Result<String, BundleError> {
    let (mut names, mut layers) = (Vec::new(), String::new());
    for path in files(folder, "css")? {
        let sheet = fs::read_to_string(&path).map_err(BundleError::at(&path))?;
        let stem = stem(&path);
        let name = stem.trim_start_matches(|c: char| c.is_ascii_digit() || c == '-');
        layers.push_str(&format!("@layer {name} {{\n{sheet}}}\n"));
        names.push(name.to_owned());
    }
    Ok(format!("@layer {};\n{layers}{card}", names.join(", ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sheet_is_a_layer_and_the_card_is_in_none() {
        let css = Sources::read().unwrap().css;
        assert!(css.starts_with("@layer tokens, base, parts, "), "{}", &css[..80]);
        let depth_at = |at: usize| css[..at].matches('{').count() - css[..at].matches('}').count();
        assert_eq!(depth_at(css.find("\n.jumps {").unwrap()), 1);
        assert_eq!(depth_at(css.find("\n.care-card {").unwrap()), 0);
        assert_eq!(depth_at(css.len()), 0);
    }
}
