//! Names of folders and files that every file system takes: small letters of ASCII, digits and hyphens, each name once
//! whatever the case, and none that a system reserves for devices.

use std::collections::{BTreeMap, BTreeSet};

use shared::text::folded;

/// The most bytes of a name without its number.
const MOST: usize = 36;

/// Names that some systems reserve for devices, also with an ending; from memory.
const RESERVED: [&str; 4] = ["con", "prn", "aux", "nul"];
/// The same, followed by a digit.
const RESERVED_WITH_DIGIT: [&str; 2] = ["com", "lpt"];

/// The names of one folder that were given out.
#[derive(Debug, Default)]
pub(super) struct SafeNames {
    taken: BTreeSet<String>,
    /// The last number behind each name that was asked for, so that the next one is not counted from the beginning.
    last: BTreeMap<String, u32>,
}

impl SafeNames {
    /// A name for what these words say, `otherwise` where they have no such letters; with a number behind it if it was
    /// given out before.
    pub(super) fn next(&mut self, words: &str, otherwise: &str) -> String {
        let base = safe(words);
        let base = if base.is_empty() {
            otherwise.to_owned()
        } else {
            base
        };
        let number = self.last.entry(base.clone()).or_insert(0);
        loop {
            *number += 1;
            let name = match *number {
                1 => base.clone(),
                again => format!("{base}-{again}"),
            };
            if self.taken.insert(name.clone()) {
                return name;
            }
        }
    }
}

/// Words as a name; empty if none of their letters may stand in one.
fn safe(words: &str) -> String {
    let mut name = String::new();
    for letter in folded(words).chars() {
        if name.len() >= MOST {
            break;
        }
        if letter.is_ascii_alphanumeric() {
            name.push(letter);
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    let name = name.trim_end_matches('-');
    if is_reserved(name) {
        return ["pair-", name].concat();
    }
    name.to_owned()
}

fn is_reserved(name: &str) -> bool {
    let with_digit = |word: &&str| {
        let rest = name.strip_prefix(*word).map(str::as_bytes);
        matches!(rest, Some([b'0'..=b'9']))
    };
    RESERVED.contains(&name) || RESERVED_WITH_DIGIT.iter().any(with_digit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_and_each_is_given_once() {
        let mut names = SafeNames::default();
        for (words, wanted) in [
            ("A12 Brown Derby", "a12-brown-derby"),
            ("a12 brown derby", "a12-brown-derby-2"),
            ("a12-brown-derby-2", "a12-brown-derby-2-2"),
            ("../../etc: \"x\"*?<>|", "etc-x"),
            ("Grüne Größe", "grune-grosse"),
            ("Ботинки", "pair"),
            ("", "pair-2"),
            ("CON", "pair-con"),
            ("lpt1", "pair-lpt1"),
            ("...", "pair-3"),
            ("a12 brown derby", "a12-brown-derby-3"),
        ] {
            assert_eq!(names.next(words, "pair"), wanted, "{words}");
        }
        assert_eq!(names.next(&"long ".repeat(50), "pair").len(), 36);
    }
}
