//! Rules for the sources: a type's name is used for one type only, with few exceptions, and no file is too long to
//! read.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// There must be fewer type names than this that are used for more than one type.
const REPEATED: usize = 15;
/// The most lines a file of Rust may have.
const LINES: usize = 400;
/// The folders of the repository that contain Rust sources.
const ROOMS: [&str; 4] = ["app", "server", "shared", "tests"];
/// The keywords that declare a type.
const KEYWORDS: [&str; 5] = ["struct", "enum", "trait", "type", "union"];

/// The folder of the repository.
pub(super) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Adds every Rust source file below a folder, with its text; folders with build results are skipped.
fn read_all(folder: &Path, files: &mut Vec<(PathBuf, String)>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() {
            if !["target", "node_modules", ".venv", "dist"].contains(&name.as_str()) {
                read_all(&path, files);
            }
        } else if path.extension().is_some_and(|ext| ext == "rs") {
            let text = fs::read_to_string(&path).unwrap();
            files.push((path, text));
        }
    }
}

/// Every Rust source file of the repository, with its text.
pub(super) fn sources() -> Vec<(PathBuf, String)> {
    let mut files = Vec::new();
    for room in ROOMS {
        read_all(&root().join(room), &mut files);
    }
    assert!(files.len() > 500, "the sources were not found");
    files
}

/// The type that a line declares, if it does. An indented `type` is an associated type of an `impl` and declares no new
/// name.
fn declared(line: &str) -> Option<&str> {
    let words = line.trim_start();
    let indented = words.len() < line.len();
    let words = match words.strip_prefix("pub") {
        Some(rest) => rest.trim_start().strip_prefix('(').map_or(rest, |scope| {
            scope.split_once(')').map_or(scope, |(_, rest)| rest)
        }),
        None => words,
    };
    let (keyword, rest) = words.trim_start().split_once(' ')?;
    if !KEYWORDS.contains(&keyword) || (keyword == "type" && indented) {
        return None;
    }
    let end = rest
        .find(|c: char| !c.is_alphanumeric() && c != '_')
        .unwrap_or(rest.len());
    let name = &rest[..end];
    name.starts_with(|c: char| c.is_ascii_uppercase()).then_some(name)
}

/// Whether a file belongs to the product, and not to its tests.
fn is_product(path: &Path) -> bool {
    let path = path.strip_prefix(root()).unwrap();
    !path.starts_with("tests") && !path.iter().any(|part| part == "tests" || part == "tests.rs")
}

#[test]
fn few_names_are_given_to_more_than_one_type() {
    let mut places: BTreeMap<String, Vec<PathBuf>> = BTreeMap::new();
    for (path, text) in sources().into_iter().filter(|(path, _)| is_product(path)) {
        for name in text.lines().filter_map(declared) {
            places.entry(name.to_owned()).or_default().push(path.clone());
        }
    }
    places.retain(|_, files| files.len() > 1);
    assert!(
        places.len() < REPEATED,
        "{} repeated names: {places:#?}",
        places.len()
    );
}

#[test]
fn no_file_is_too_long() {
    let long: Vec<_> = sources()
        .into_iter()
        .filter(|(_, text)| text.lines().count() > LINES)
        .map(|(path, text)| (path, text.lines().count()))
        .collect();
    assert!(long.is_empty(), "{long:?}");
}

#[test]
fn declarations_are_seen() {
    let cases = [
        ("pub struct Held {", Some("Held")),
        ("    pub(super) enum Rest<'a> {", Some("Rest")),
        ("pub(in crate::store) trait Kv: Clone {", Some("Kv")),
        ("type Row = u32;", Some("Row")),
        ("    type Tx = IdbTx;", None),
        ("let structure = 1;", None),
        ("/// struct Nothing", None),
    ];
    for (line, name) in cases {
        assert_eq!(declared(line), name, "{line}");
    }
}
