//! What has been erased, and which entries and bytes that blanks.

use std::collections::BTreeSet;

use serde::{Deserialize, Deserializer, Serialize};

use super::body::Body;
use super::entry::{Entry, Subject, SubjectId, SubjectKind};

/// The kinds of entry that an erasure leaves as they are.
const NEVER_BLANK: [&str; 3] = ["erased", "retracted", "same_as"];

/// The subjects and blobs whose content is gone for good.
///
/// An erasure names things, not entries, so it also blanks what arrives later: a stale push, a restored backup,
/// an edit made elsewhere in the meantime. It cannot be taken back.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Erasures {
    /// Subjects whose content is blanked.
    #[serde(default)]
    pub subjects: BTreeSet<SubjectId>,
    /// SHA-256 of blobs that are destroyed and never taken back, in lower-case hex.
    #[serde(default, deserialize_with = "lower_case")]
    pub blobs: BTreeSet<String>,
}

/// Reads hashes as lower case: an earlier version stored them as the erasure had them.
fn lower_case<'de, D: Deserializer<'de>>(reader: D) -> Result<BTreeSet<String>, D::Error> {
    let hashes = BTreeSet::<String>::deserialize(reader)?;
    Ok(hashes.into_iter().map(|hash| hash.to_ascii_lowercase()).collect())
}

impl Erasures {
    /// Remembers what an entry erases, if it is an erasure. Returns whether that was new. An entry that would erase the
    /// shop erases nothing.
    pub fn note(&mut self, entry: &Entry) -> bool {
        match Body::of(entry) {
            Body::Erased(erased) => match erased.blob {
                Some(hash) => self.blobs.insert(hash),
                None if entry.subject.kind == SubjectKind::Shop => false,
                None => self.subjects.insert(entry.subject.id),
            },
            _ => false,
        }
    }

    /// Whether this entry's body must be blank.
    pub fn covers(&self, entry: &Entry) -> bool {
        self.covers_kind(&entry.subject, &entry.kind)
    }

    /// Whether the body of an entry of this kind on this subject must be blank. Erasures, retractions and `same_as` say
    /// nothing about a person and are never blanked, so a blank copy of one is never explained. The shop's own entries
    /// are never covered, not even by an erasure that gives the shop's id to another kind of subject.
    pub fn covers_kind(&self, subject: &Subject, kind: &str) -> bool {
        self.subjects.contains(&subject.id)
            && subject.kind != SubjectKind::Shop
            && !NEVER_BLANK.contains(&kind)
    }

    /// Whether this copy is blank although no known erasure covers it. Such a copy must not be trusted: the device that
    /// sent it may be faulty or dishonest, or its erasure has not arrived yet.
    pub fn leaves_unexplained(&self, entry: &Entry) -> bool {
        entry.is_blank() && !self.covers(entry)
    }

    /// Whether these bytes must not be kept.
    pub fn covers_blob(&self, sha256: &str) -> bool {
        self.blobs.contains(sha256)
    }

    /// Blanks an entry if it is covered. Returns whether anything changed.
    pub fn blank(&self, entry: &mut Entry) -> bool {
        let blanks = !entry.is_blank() && self.covers(entry);
        if blanks {
            entry.body.clear();
        }
        blanks
    }

    /// Whether nothing has been erased.
    pub fn is_empty(&self) -> bool {
        self.subjects.is_empty() && self.blobs.is_empty()
    }

    /// Adds the erasures that another device, or another copy of the log, knows.
    pub fn extend(&mut self, other: Erasures) {
        self.subjects.extend(other.subjects);
        self.blobs.extend(other.blobs);
    }
}
