//! Finds which file of a crate uses what another file declares. A path is followed through re-exports to the
//! declaration, so that a file that only re-exports a name is not counted. A method that is called by its name alone is
//! not found.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use super::module::{Meaning, Module, is_for_tests};

/// The place of a module in its crate, from the root: `["store", "kv"]`.
type ModulePath = Vec<String>;

/// From a file to a file that it imports from: the paths in the source that make the import.
pub(super) type Arrows = BTreeMap<(PathBuf, PathBuf), BTreeSet<String>>;

/// How many re-exports are followed. It is more than any path in the sources has, and ends those that lead back to
/// themselves.
const DEEPEST: usize = 12;

/// What a path leads to.
enum Target {
    Module(ModulePath),
    /// Something declared in this module.
    Item(ModulePath),
}

/// A module, and the file that contains it.
struct Placed {
    module: Module,
    file: PathBuf,
}

/// The modules of a crate.
#[derive(Default)]
pub(super) struct Crate {
    modules: BTreeMap<ModulePath, Placed>,
    /// The outermost module of each file.
    files: BTreeMap<PathBuf, ModulePath>,
}

impl Crate {
    /// Reads a crate from its root file.
    pub(super) fn read(root: &Path) -> Self {
        let mut whole = Self::default();
        whole.read_file(Vec::new(), root, root.parent().unwrap());
        whole
    }

    /// The files of the crate.
    pub(super) fn files(&self) -> impl Iterator<Item = &PathBuf> {
        self.files.keys()
    }

    /// Reads a file. The files of its modules are in `folder`.
    fn read_file(&mut self, at: ModulePath, file: &Path, folder: &Path) {
        let text = fs::read_to_string(file).unwrap();
        let parsed = syn::parse_file(&text).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
        self.files.entry(file.to_owned()).or_insert_with(|| at.clone());
        self.read_items(at, file, folder, &parsed.items);
    }

    fn read_items(&mut self, at: ModulePath, file: &Path, folder: &Path, items: &[syn::Item]) {
        let mut module = Module::default();
        for item in items {
            module.read(item);
            if let syn::Item::Mod(inner) = item {
                let place = inside(&at, inner.ident.to_string());
                self.read_inner(place, inner, file, &folder.join(inner.ident.to_string()));
            }
        }
        let file = file.to_owned();
        self.modules.insert(at, Placed { module, file });
    }

    /// Reads a module inside another one. The files of its own modules are in `below`. Tests in a file of their own are
    /// checked like any other file; tests at the end of a file are left out.
    fn read_inner(&mut self, at: ModulePath, inner: &syn::ItemMod, file: &Path, below: &Path) {
        match &inner.content {
            Some(_) if is_for_tests(&inner.attrs) => self.read_items(at, file, below, &[]),
            Some((_, items)) => self.read_items(at, file, below, items),
            None => {
                let folder = file.parent().unwrap();
                let said = said_path(inner).map(|path| folder.join(path));
                // A file named by a `#[path]` attribute is treated like a `mod.rs`: the files of its modules are beside
                // it.
                let beside = said
                    .into_iter()
                    .chain([below.join("mod.rs")])
                    .find(|file| file.is_file());
                let (found, below) = match &beside {
                    Some(found) => (found.clone(), found.parent().unwrap()),
                    None => (below.with_extension("rs"), below),
                };
                self.read_file(at, &found, below);
            }
        }
    }

    /// The imports of each file from others. A module may name the modules inside it, so imports from these are left
    /// out.
    pub(super) fn arrows(&self) -> Arrows {
        let mut arrows = Arrows::new();
        for (at, Placed { module, file }) in &self.modules {
            for words in &module.mentions {
                for Target::Module(to) | Target::Item(to) in self.resolve(at, words, DEEPEST) {
                    let other = &self.modules[&to].file;
                    if !self.files[other].starts_with(&self.files[file]) {
                        let arrow = (file.clone(), other.clone());
                        arrows.entry(arrow).or_default().insert(words.join("::"));
                    }
                }
            }
        }
        arrows
    }

    /// What a path in a module leads to, within the crate. It can be several things, because a name can mean several.
    fn resolve(&self, at: &[String], words: &[String], deep: usize) -> Vec<Target> {
        let up = words.iter().take_while(|word| *word == "super").count();
        let (base, rest) = match words.first().map(String::as_str) {
            Some("crate") => (&at[..0], &words[1..]),
            Some("self") => (at, &words[1..]),
            _ => (&at[..at.len().saturating_sub(up)], &words[up..]),
        };
        if rest.is_empty() {
            return vec![Target::Module(base.to_vec())];
        }
        self.walk(base, rest, deep)
    }

    /// Follows the words of a path down from a module.
    fn walk(&self, at: &[String], words: &[String], deep: usize) -> Vec<Target> {
        let found = self.look_up(at, &words[0], deep).into_iter();
        let on = found.flat_map(|target| match target {
            Target::Module(inner) if words.len() > 1 => self.walk(&inner, &words[1..], deep),
            target => vec![target],
        });
        on.collect()
    }

    /// What a name means in a module.
    fn look_up(&self, at: &[String], name: &str, deep: usize) -> Vec<Target> {
        let Some(deep) = deep.checked_sub(1) else {
            return Vec::new();
        };
        let module = &self.modules[at].module;
        let target = |meaning: &Meaning| match meaning {
            Meaning::Declared => vec![Target::Item(at.to_vec())],
            Meaning::Module => vec![Target::Module(inside(at, name.to_owned()))],
            Meaning::Import(words) => self.resolve(at, words, deep),
        };
        if let Some(meanings) = module.names.get(name) {
            return meanings.iter().flat_map(target).collect();
        }
        let all = module.globs.iter().flat_map(|glob| self.resolve(at, glob, deep));
        let named = all.flat_map(|target| match target {
            Target::Module(other) if other != at => self.look_up(&other, name, deep),
            _ => Vec::new(),
        });
        named.collect()
    }
}

fn inside(at: &[String], name: String) -> ModulePath {
    at.iter().cloned().chain([name]).collect()
}

/// The file that `#[path = "…"]` gives to a module.
fn said_path(module: &syn::ItemMod) -> Option<String> {
    module.attrs.iter().find_map(|attribute| match &attribute.meta {
        syn::Meta::NameValue(pair) if pair.path.is_ident("path") => match &pair.value {
            syn::Expr::Lit(syn::ExprLit {
                lit: syn::Lit::Str(text),
                ..
            }) => Some(text.value()),
            _ => None,
        },
        _ => None,
    })
}
