//! No file imports, directly or through other files, from a file that imports from it.
//!
//! A module may name the modules inside it, as it does when it lists them; a module inside it that imports from it
//! counts as an import. What two files of a circle share belongs into a third file that both import, or into one of
//! them.

mod imports;
mod module;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::path::{Path, PathBuf};

use crate::source::{root, sources};
use imports::{Arrows, Crate};

/// The files that each file imports from, directly or through others.
fn reached(arrows: &Arrows) -> BTreeMap<&Path, BTreeSet<&Path>> {
    let mut next: BTreeMap<&Path, Vec<&Path>> = BTreeMap::new();
    for (from, to) in arrows.keys() {
        next.entry(from).or_default().push(to);
    }
    let mut reached = BTreeMap::new();
    for file in next.keys().copied() {
        let (mut seen, mut open) = (BTreeSet::new(), vec![file]);
        while let Some(from) = open.pop() {
            let new = next.get(from).into_iter().flatten().copied();
            open.extend(new.filter(|to| seen.insert(*to)));
        }
        reached.insert(file, seen);
    }
    reached
}

/// The circles of a crate, each as the set of its files.
fn circles(arrows: &Arrows) -> BTreeSet<BTreeSet<&Path>> {
    let reached = reached(arrows);
    let mut circles = BTreeSet::new();
    for (file, all) in &reached {
        let leads_back = |other: &&Path| reached.get(other).is_some_and(|back| back.contains(file));
        circles.insert(all.iter().copied().filter(leads_back).collect());
    }
    circles.remove(&BTreeSet::new());
    circles
}

/// A text with every import between the files of each circle, and the paths that make it.
fn told(arrows: &Arrows) -> String {
    let mut text = String::new();
    for circle in circles(arrows) {
        writeln!(text, "a circle of {} files:", circle.len()).unwrap();
        for ((from, to), paths) in arrows {
            if circle.contains(from.as_path()) && circle.contains(to.as_path()) {
                let [from, to] = [from, to].map(|file| file.strip_prefix(root()).unwrap_or(file).display());
                writeln!(text, "  {from} imports from {to}: {paths:?}").unwrap();
            }
        }
    }
    text
}

/// Every crate: those at the usual places of a root file, then each other file that belongs to none of them.
fn crates() -> Vec<Crate> {
    let is_root = |file: &PathBuf| file.ends_with("lib.rs") || file.ends_with("main.rs");
    let files = sources().into_iter().map(|(file, _)| file);
    let (roots, others): (Vec<_>, Vec<_>) = files.partition(is_root);
    let mut taken = BTreeSet::new();
    let mut crates = Vec::new();
    for file in roots.into_iter().chain(others) {
        if !taken.contains(&file) {
            let whole = Crate::read(&file);
            taken.extend(whole.files().cloned());
            crates.push(whole);
        }
    }
    crates
}

#[test]
fn arrows_between_files_go_one_way() {
    let crates = crates();
    let arrows: Vec<_> = crates.iter().map(Crate::arrows).collect();
    let count = arrows.iter().map(BTreeMap::len).sum::<usize>();
    assert!(count > 1000, "the imports were not found: {count}");
    let found: String = arrows.iter().map(told).collect();
    assert!(found.is_empty(), "{found}");
}

/// Writes these files (name and text) as a crate and reads it. Returns the file names of each of its circles.
fn circles_of(files: &[(&str, &str)]) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        let file = folder.path().join(name);
        std::fs::create_dir_all(file.parent().unwrap()).unwrap();
        std::fs::write(file, text).unwrap();
    }
    let arrows = Crate::read(&folder.path().join("lib.rs")).arrows();
    let name = |file: &&Path| file.strip_prefix(folder.path()).unwrap().display().to_string();
    let names = |circle: &BTreeSet<&Path>| circle.iter().map(name).collect::<Vec<_>>().join(" ");
    circles(&arrows).iter().map(names).collect()
}

#[test]
fn a_circle_is_seen_through_what_only_passes_names_on() {
    let files = [
        ("lib.rs", "mod a; mod b; mod hub; mod low;"),
        ("a.rs", "use crate::hub::B; pub struct A(B, super::low::Low);"),
        ("hub.rs", "pub use crate::b::{B as B};"),
        ("b.rs", "pub struct B(Option<Box<crate::a::A>>, crate::low::Low);"),
        ("low.rs", "pub struct Low;"),
    ];
    assert_eq!(circles_of(&files), ["a.rs b.rs"]);
}

#[test]
fn every_way_to_name_something_counts() {
    let ways = [
        "use super::b::B;",
        "use super::b::*; fn f(_: B) {}",
        "use crate::{b::{self, B}};",
        "use super::b; fn f(_: b::B) {}",
        "fn f() { super::b::B; }",
        "fn f() { use crate::b::B as Other; }",
        "mod inner { use super::super::b::B; }",
        "fn f() { vec![(1, crate::b::B)]; }",
        "struct S(#[serde(with = \"crate::b\")] u8);",
    ];
    for way in ways {
        let files = [
            ("lib.rs", "mod a; mod b;"),
            ("a.rs", way),
            ("b.rs", "pub struct B; use super::a;"),
        ];
        assert_eq!(circles_of(&files), ["a.rs b.rs"], "{way}");
    }
}

#[test]
fn a_module_may_name_its_parts_and_tests_what_they_test() {
    let quiet = [
        "//! See [`crate::b::B`].",
        "#[cfg(test)] mod tests { use crate::b::B; }",
        "#[cfg(test)] use crate::b::B;",
        "pub(in super::b) struct A;",
        "use std::b::B; fn f(b: u8) { b; }",
    ];
    for text in quiet {
        let files = [
            ("lib.rs", "mod a; mod b; use b::B;"),
            ("a.rs", text),
            ("b.rs", "pub struct B; use super::a;"),
        ];
        assert_eq!(circles_of(&files), Vec::<String>::new(), "{text}");
    }
    let parts = [
        ("lib.rs", "mod a;"),
        ("a/mod.rs", "mod part; use part::Part; pub struct Whole(Part);"),
        ("a/part.rs", "mod deep; pub struct Part; use super::Whole;"),
        ("a/part/deep.rs", "use super::Part;"),
    ];
    assert_eq!(circles_of(&parts), Vec::<String>::new());
}

#[test]
fn a_part_that_imports_from_its_module_closes_a_circle_with_what_that_imports() {
    let files = [
        ("lib.rs", "mod a; mod b;"),
        ("a.rs", "mod part; use crate::b::B; pub struct Whole(B);"),
        ("a/part.rs", "pub struct Part(super::Whole);"),
        ("b.rs", "pub struct B(Option<Box<super::a::part::Part>>);"),
    ];
    assert_eq!(circles_of(&files), ["a/part.rs a.rs b.rs"]);
}
