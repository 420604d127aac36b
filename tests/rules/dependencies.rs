//! Rules for the libraries: their licences, their versions and where they come from are as `.cargo/deny.toml` says.
//!
//! cargo-deny reads the same file (`make advisories`). It takes minutes to compile, so that a run does without it; these
//! tests check what can be checked without the list of known vulnerabilities.

use std::collections::{BTreeMap, BTreeSet};
use std::iter::Peekable;
use std::process::Command;
use std::sync::LazyLock;
use std::{fs, vec};

use serde::Deserialize;

use crate::source::root;

/// As much of `.cargo/deny.toml` as these tests check.
#[derive(Deserialize)]
struct Policy {
    graph: Graph,
    licenses: Licenses,
    bans: Bans,
    sources: Sources,
}

#[derive(Deserialize)]
struct Graph {
    targets: Vec<String>,
}

#[derive(Deserialize)]
struct Licenses {
    allow: BTreeSet<String>,
    exceptions: Vec<Exception>,
    clarify: Vec<Clarified>,
}

/// Licences that one library alone may have.
#[derive(Deserialize)]
struct Exception {
    #[serde(rename = "crate")]
    name: String,
    allow: Vec<String>,
}

/// The licence of a library that names none.
#[derive(Deserialize)]
struct Clarified {
    #[serde(rename = "crate")]
    name: String,
    expression: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Bans {
    multiple_versions: String,
    skip: Vec<Skipped>,
}

/// Versions that may stand beside another one: `name:range`.
#[derive(Deserialize)]
struct Skipped {
    #[serde(rename = "crate")]
    versions: String,
    reason: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Sources {
    unknown_registry: String,
    unknown_git: String,
    allow_registry: Vec<String>,
    allow_git: Vec<String>,
}

/// What `cargo metadata` says of the packages.
#[derive(Deserialize)]
struct Metadata {
    packages: Vec<Package>,
}

#[derive(Deserialize)]
struct Package {
    name: String,
    version: String,
    license: Option<String>,
    /// `None` for our own.
    source: Option<String>,
}

static POLICY: LazyLock<Policy> = LazyLock::new(|| {
    let text = fs::read_to_string(root().join(".cargo/deny.toml")).unwrap();
    toml::from_str(&text).unwrap()
});

/// Every package that is built for the targets of the policy, also for tests and build scripts.
static PACKAGES: LazyLock<Vec<Package>> = LazyLock::new(|| {
    let mut cargo = Command::new(env!("CARGO"));
    cargo.args(["metadata", "--format-version", "1", "--locked"]);
    for target in &POLICY.graph.targets {
        cargo.args(["--filter-platform", target]);
    }
    let out = cargo.current_dir(root()).output().unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let metadata: Metadata = serde_json::from_slice(&out.stdout).unwrap();
    assert!(metadata.packages.len() > 100, "the libraries were not found");
    metadata.packages
});

impl Package {
    /// Its licence expression, in the form of SPDX.
    fn expression(&self) -> &str {
        let clarified = || {
            let ours = POLICY.licenses.clarify.iter().find(|one| one.name == self.name);
            ours.unwrap_or_else(|| panic!("{} {} names no licence", self.name, self.version))
                .expression
                .as_str()
        };
        self.license.as_deref().unwrap_or_else(clarified)
    }

    /// Whether its licences can be met with those that are allowed, other than this one.
    fn is_met_without(&self, left_out: &str) -> bool {
        let exceptions = POLICY.licenses.exceptions.iter();
        let of_it = exceptions.filter(|one| one.name == self.name);
        let own: Vec<&String> = of_it.flat_map(|one| &one.allow).collect();
        let allowed = |licence: &str| {
            let known = POLICY.licenses.allow.contains(licence) || own.iter().any(|one| *one == licence);
            known && licence != left_out
        };
        is_met(self.expression(), &allowed)
    }

    /// The versions that Cargo takes for compatible with it: `1` for 1.2.3, `0.2` for 0.2.3.
    fn range(&self) -> String {
        let mut parts: Vec<&str> = self.version.split('.').collect();
        let significant = parts.iter().position(|part| *part != "0").unwrap_or(2);
        parts.truncate(significant + 1);
        parts.join(".")
    }
}

/// The words of a licence expression.
type Words<'a> = Peekable<vec::IntoIter<&'a str>>;

/// Whether a licence expression can be met with licences that are allowed. A slash is an older way to write `OR`.
fn is_met(expression: &str, allowed: &dyn Fn(&str) -> bool) -> bool {
    let spaced = expression
        .replace('(', " ( ")
        .replace(')', " ) ")
        .replace('/', " OR ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut words = words.into_iter().peekable();
    let met = any_of(&mut words, allowed);
    assert_eq!(words.next(), None, "{expression}");
    met
}

fn any_of(words: &mut Words<'_>, allowed: &dyn Fn(&str) -> bool) -> bool {
    let mut met = all_of(words, allowed);
    while words.next_if_eq(&"OR").is_some() {
        met |= all_of(words, allowed);
    }
    met
}

fn all_of(words: &mut Words<'_>, allowed: &dyn Fn(&str) -> bool) -> bool {
    let mut met = one_of(words, allowed);
    while words.next_if_eq(&"AND").is_some() {
        met &= one_of(words, allowed);
    }
    met
}

/// A licence, with its exception if it has one, or an expression in brackets.
fn one_of(words: &mut Words<'_>, allowed: &dyn Fn(&str) -> bool) -> bool {
    let licence = words.next().unwrap();
    if licence == "(" {
        let met = any_of(words, allowed);
        assert_eq!(words.next(), Some(")"));
        return met;
    }
    match words.next_if_eq(&"WITH") {
        Some(with) => allowed(&[licence, with, words.next().unwrap()].join(" ")),
        None => allowed(licence),
    }
}

#[test]
fn every_library_has_a_licence_that_is_allowed() {
    let not_met: Vec<_> = PACKAGES
        .iter()
        .filter(|package| !package.is_met_without(""))
        .map(|package| (&package.name, &package.version, package.expression()))
        .collect();
    assert!(not_met.is_empty(), "{not_met:#?}");
}

#[test]
fn every_licence_that_is_allowed_is_needed() {
    let needed = |licence: &str| PACKAGES.iter().any(|package| !package.is_met_without(licence));
    for licence in &POLICY.licenses.allow {
        assert!(needed(licence), "{licence}");
    }
    for exception in &POLICY.licenses.exceptions {
        let of_it = || PACKAGES.iter().filter(|package| package.name == exception.name);
        let needs = |licence: &String| of_it().any(|package| !package.is_met_without(licence));
        assert!(exception.allow.iter().all(needs), "{}", exception.name);
    }
    for clarified in &POLICY.licenses.clarify {
        let mut of_it = PACKAGES.iter().filter(|package| package.name == clarified.name);
        assert!(
            of_it.any(|package| package.license.is_none()),
            "{}",
            clarified.name
        );
    }
}

#[test]
fn two_versions_of_a_library_have_a_reason() {
    assert_eq!(POLICY.bans.multiple_versions, "deny");
    let mut versions: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for package in PACKAGES.iter() {
        versions.entry(&package.name).or_default().push(package.range());
    }
    versions.retain(|_, ranges| ranges.len() > 1);
    let mut skipped: BTreeMap<&str, &str> = BTreeMap::new();
    for one in &POLICY.bans.skip {
        skipped.insert(&one.versions, &one.reason);
    }
    for (name, ranges) in versions {
        let kept: Vec<_> = ranges
            .iter()
            .filter(|range| skipped.remove(format!("{name}:{range}").as_str()).is_none())
            .collect();
        assert_eq!(
            kept.len(),
            1,
            "{name}: of {ranges:?}, these have no reason: {kept:?}"
        );
    }
    assert!(skipped.is_empty(), "there is one version now: {skipped:?}");
}

#[test]
fn every_reason_says_who_needs_it() {
    for one in &POLICY.bans.skip {
        let mut named = one.reason.split([',', ';', ' ']);
        let is_library = |word: &str| PACKAGES.iter().any(|package| package.name == word);
        assert!(named.any(is_library), "{}: {}", one.versions, one.reason);
    }
}

#[test]
fn libraries_come_from_the_registry_alone() {
    let Sources {
        unknown_registry,
        unknown_git,
        allow_registry,
        allow_git,
    } = &POLICY.sources;
    assert_eq!(
        (unknown_registry.as_str(), unknown_git.as_str()),
        ("deny", "deny")
    );
    assert_eq!((allow_registry.len(), allow_git.len()), (1, 0));
    for package in PACKAGES.iter() {
        let from = package
            .source
            .as_deref()
            .map(|source| source.strip_prefix("registry+"));
        let known = from.is_none_or(|registry| registry == Some(allow_registry[0].as_str()));
        assert!(known, "{} comes from {:?}", package.name, package.source);
    }
}

#[test]
fn licence_expressions_are_read() {
    let allowed = |licence: &str| ["MIT", "ISC", "Apache-2.0 WITH LLVM-exception"].contains(&licence);
    for (expression, expected) in [
        ("MIT", true),
        ("GPL-3.0-only", false),
        ("GPL-3.0-only OR MIT", true),
        ("MIT AND GPL-3.0-only", false),
        ("MIT AND ISC", true),
        // `AND` binds more tightly.
        ("MIT OR ISC AND GPL-3.0-only", true),
        ("(MIT OR ISC) AND GPL-3.0-only", false),
        ("GPL-3.0-only OR (ISC AND (Zlib OR MIT))", true),
        ("Unlicense/MIT", true),
        ("Apache-2.0 WITH LLVM-exception", true),
        ("Apache-2.0", false),
        ("Apache-2.0 WITH other-exception OR ISC", true),
    ] {
        assert_eq!(is_met(expression, &allowed), expected, "{expression}");
    }
}

#[test]
fn ranges_are_as_cargo_takes_them() {
    for (version, range) in [
        ("1.2.3", "1"),
        ("0.22.1", "0.22"),
        ("0.0.3", "0.0.3"),
        ("10.0.0", "10"),
    ] {
        let package = Package {
            name: String::new(),
            version: version.to_owned(),
            license: None,
            source: None,
        };
        assert_eq!(package.range(), range);
    }
}
