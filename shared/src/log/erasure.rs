//! What has been erased, and which entries and bytes that blanks.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::body::{Body, MentionErased};
use super::entry::{Entry, EntryId, Subject, SubjectId, SubjectKind};
use super::lower_case;

/// The kinds of entry that an erasure leaves as they are.
const NEVER_BLANK: [&str; 3] = ["erased", "retracted", "same_as"];

/// The subjects, blobs and mentions whose content is gone for good.
///
/// An erasure of a subject names it, not its entries, so it also blanks what arrives later: a stale push, a restored backup,
/// an edit made elsewhere in the meantime. It cannot be taken back.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Erasures {
    /// Subjects whose content is blanked.
    #[serde(default)]
    pub subjects: BTreeSet<SubjectId>,
    /// SHA-256 of blobs that are destroyed and never taken back, in lower-case hex. An earlier version stored them as
    /// the erasure had them.
    #[serde(default, deserialize_with = "lower_case::set")]
    pub blobs: BTreeSet<String>,
    /// Single entries whose content is blanked, each with the subject that it must be about.
    #[serde(default)]
    pub mentions: BTreeSet<(SubjectId, EntryId)>,
    /// Entries that erase mentions and are themselves blanked for another one: the subject, such an entry, and an entry
    /// in which it erased a mention. The entry that blanks it says so in what it leaves of it.
    #[serde(default)]
    pub named_again: BTreeSet<(SubjectId, EntryId, EntryId)>,
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
            Body::MentionErased(erased) => self.note_mentions(entry.subject.id, &erased_by(erased)),
            _ => false,
        }
    }

    fn note_mentions(&mut self, subject: SubjectId, erased: &[EntryId]) -> bool {
        let mut is_new = false;
        for (at, entry) in erased.iter().enumerate() {
            is_new |= self.mentions.insert((subject, *entry));
            for again in &erased[at + 1..] {
                is_new |= self.named_again.insert((subject, *entry, *again));
            }
        }
        is_new
    }

    /// Whether this entry's body must be blank.
    pub fn covers(&self, entry: &Entry) -> bool {
        self.covers_kind(&entry.subject, &entry.kind)
            || (self.covers_id(entry.id, &entry.subject, &entry.kind) && self.names_again(entry))
    }

    /// Whether no device has to read this entry to know what it erases: an erased mention is blanked for another one
    /// only if that names all of it again. Else a device that reads the log later could not explain the copies that
    /// are blank.
    fn names_again(&self, entry: &Entry) -> bool {
        let Body::MentionErased(erased) = Body::of(entry) else {
            return true;
        };
        let place = |erased: EntryId| (entry.subject.id, entry.id, erased);
        let mut erased = erased_by(erased).into_iter();
        erased.all(|erased| self.named_again.contains(&place(erased)))
    }

    /// Whether the body of the entry with this id, subject and kind must be blank; of one that erases a mention,
    /// whether it may be. A request for an erasure mentions nobody, and only a retraction calls it off.
    pub fn covers_id(&self, id: EntryId, subject: &Subject, kind: &str) -> bool {
        let is_mention = || {
            self.mentions.contains(&(subject.id, id))
                && match kind {
                    "erasure_asked" => false,
                    "mention_erased" => self.names_any_again(subject.id, id),
                    _ => true,
                }
        };
        self.covers_kind(subject, kind) || (is_ever_blank(subject, kind) && is_mention())
    }

    fn names_any_again(&self, subject: SubjectId, id: EntryId) -> bool {
        let least = (subject, id, EntryId(Uuid::nil()));
        let first = self.named_again.range(least..).next();
        first.is_some_and(|(of, entry, _)| (*of, *entry) == (subject, id))
    }

    /// Whether the body of every entry of this kind on this subject must be blank. Erasures, retractions and `same_as` say
    /// nothing about a person and are never blanked, so a blank copy of one is never explained. The shop's own entries
    /// are never covered, not even by an erasure that gives the shop's id to another kind of subject.
    pub fn covers_kind(&self, subject: &Subject, kind: &str) -> bool {
        self.subjects.contains(&subject.id) && is_ever_blank(subject, kind)
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
        self.subjects.is_empty() && self.blobs.is_empty() && self.mentions.is_empty()
    }

    /// Adds the erasures that another device, or another copy of the log, knows.
    pub fn extend(&mut self, other: Erasures) {
        self.subjects.extend(other.subjects);
        self.blobs.extend(other.blobs);
        self.mentions.extend(other.mentions);
        self.named_again.extend(other.named_again);
    }

    /// Whether all of it has been erased already, as `all` knows.
    pub fn is_within(&self, all: &Erasures) -> bool {
        self.subjects.is_subset(&all.subjects)
            && self.blobs.is_subset(&all.blobs)
            && self.mentions.is_subset(&all.mentions)
            && self.named_again.is_subset(&all.named_again)
    }

    /// The subjects of which entries may have to be blanked.
    pub fn about(&self) -> BTreeSet<SubjectId> {
        let mut about = self.subjects.clone();
        about.extend(self.mentions.iter().map(|(subject, _)| *subject));
        about.extend(self.named_again.iter().map(|(subject, ..)| *subject));
        about
    }
}

/// The entries of one subject whose mentions are erased by one entry: what is left of a blanked entry can itself be
/// one that erased a mention.
fn erased_by(erased: MentionErased) -> Vec<EntryId> {
    let mut all = Vec::new();
    let mut next = Some(erased);
    while let Some(MentionErased { entry, left }) = next {
        all.push(entry);
        next = left.and_then(|left| match Body::of_value("mention_erased", &left) {
            Body::MentionErased(inner) => Some(inner),
            _ => None,
        });
    }
    all
}

/// Whether an erasure can blank an entry of this kind on this subject.
fn is_ever_blank(subject: &Subject, kind: &str) -> bool {
    subject.kind != SubjectKind::Shop && !NEVER_BLANK.contains(&kind)
}

/// Whether an entry of this kind destroys content. Such an entry is sent before the entries that it blanks.
pub fn is_erasure(kind: &str) -> bool {
    matches!(kind, "erased" | "mention_erased")
}
