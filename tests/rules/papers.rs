//! Rules for the documentation: it is short, and every file that it names exists.

use std::fs;
use std::path::{Path, PathBuf};

/// The most bytes of the documents at the top of the repository.
const TOP: [(&str, usize); 2] = [("README.md", 8 * 1024), ("DEVELOPERS.md", 12 * 1024)];
/// The folders with a README of their own, which is part of their documentation.
const ROOMS: [&str; 14] = [
    "shared/src/log",
    "shared/words",
    "shared/src/sync",
    "shared/src/trade",
    "shared/src/price",
    "shared/src/shelf",
    "shared/src/plan",
    "shared/src/week",
    "app",
    "app/core/src/store",
    "server",
    "migrations",
    "tests",
    "e2e",
];
/// Paths that may be named although they exist only after a build or a run.
const MADE: [&str; 2] = ["app/dist", "tests/fuzz/target/found"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn read(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// Texts between backquotes, and the targets of links, that are paths of the repository.
fn named(text: &str) -> Vec<&str> {
    let quoted = text.split('`').skip(1).step_by(2);
    let linked = text.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    quoted.chain(linked).filter(|name| is_path(name)).collect()
}

/// Whether this is the path of a file or folder from the top of the repository.
fn is_path(name: &str) -> bool {
    let tops = ["app/", "e2e/", "migrations/", "server/", "shared/", "tests/"];
    tops.iter().any(|top| name.starts_with(top)) && !name.contains([' ', '*', '<', '{'])
}

#[test]
fn the_papers_at_the_top_are_short() {
    for (paper, most) in TOP {
        let bytes = read(paper).len();
        assert!(bytes <= most, "{paper} has {bytes} bytes");
    }
}

#[test]
fn what_the_papers_name_is_there() {
    let papers = TOP.iter().map(|(paper, _)| (*paper).to_owned());
    let papers = papers.chain(ROOMS.iter().map(|room| [room, "/README.md"].concat()));
    let mut seen = 0;
    for paper in papers {
        let text = read(&paper);
        for name in named(&text).into_iter().filter(|name| !MADE.contains(name)) {
            seen += 1;
            assert!(root().join(name).exists(), "{paper} names {name}");
        }
    }
    assert!(seen > 50, "the walks of DEVELOPERS.md were not read");
}

/// The items of the security standard name files, and tests as `file::test`.
#[test]
fn what_the_security_items_name_is_there() {
    let paper = read("tests/ASVS.md");
    let names = named(&paper);
    for name in &names {
        let (file, test) = name.split_once("::").unwrap_or((name, ""));
        assert!(root().join(file).is_file(), "{name}");
        let is_there = test.is_empty() || read(file).contains(&format!("fn {test}("));
        assert!(is_there, "{name}");
    }
    assert!(names.len() > 100, "the items were not read");
}
