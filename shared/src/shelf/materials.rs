//! All materials of the shop.

use std::collections::{BTreeMap, BTreeSet};

use super::listed::listed_id;
use crate::log::entry::{SubjectId, SubjectKind, UnixMs};
use crate::log::fold::{Entries, MaterialState};
use crate::log::received::ReceivedEntry;
use crate::log::sameness::{Sameness, joins};

/// A material under all its ids.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptMaterial {
    /// The canonical id: the smallest one.
    pub id: SubjectId,
    /// Every id of it.
    pub same: BTreeSet<SubjectId>,
    /// What the entries of all these ids say together.
    pub state: MaterialState,
}

/// All materials, by id.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Materials {
    all: Vec<KeptMaterial>,
}

impl Materials {
    /// Folds every entry about materials; other entries are ignored.
    pub fn of(entries: &Entries) -> Self {
        let mut by_subject: BTreeMap<SubjectId, Vec<&ReceivedEntry>> = BTreeMap::new();
        for received in entries.iter() {
            let subject = &received.entry.subject;
            if subject.kind == SubjectKind::Material {
                by_subject.entry(subject.id).or_default().push(received);
            }
        }
        let mut same = Vec::new();
        for (id, own) in &by_subject {
            let others = joins(own.iter().copied()).into_iter().map(|(_, other)| other);
            same.extend(
                others
                    .filter(|other| by_subject.contains_key(other))
                    .map(|other| (*id, other)),
            );
        }
        let sameness = Sameness::of(same);
        let mut classes: BTreeMap<SubjectId, (BTreeSet<SubjectId>, Vec<&ReceivedEntry>)> = BTreeMap::new();
        for (id, own) in by_subject {
            let (ids, all) = classes.entry(sameness.canonical(id)).or_default();
            ids.insert(id);
            all.extend(own);
        }
        let kept = classes.into_iter().map(|(id, (same, own))| KeptMaterial {
            id,
            same,
            state: MaterialState::of(own),
        });
        Self { all: kept.collect() }
    }

    /// Every material, retired ones too, in order of id.
    pub fn iter(&self) -> impl Iterator<Item = &KeptMaterial> {
        self.all.iter()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// When the shop began to keep account of any of them; `None` if it has not yet.
    pub fn begun(&self) -> Option<UnixMs> {
        self.all.iter().filter_map(|one| one.state.begun()).min()
    }

    /// The material with this id, which can be any of its ids.
    pub fn get(&self, id: SubjectId) -> Option<&KeptMaterial> {
        self.all.iter().find(|one| one.same.contains(&id))
    }

    /// The material that the shop's older list, and the steps of older apps, call by this name: the one that was taken
    /// over from the list, whatever it is called now; otherwise one with that name, rather one that is still kept.
    pub fn named(&self, name: &str) -> Option<&KeptMaterial> {
        let name = name.trim();
        let of_name = || self.all.iter().filter(move |one| one.state.name() == Some(name));
        self.get(listed_id(name))
            .or_else(|| of_name().find(|one| !one.state.is_retired()))
            .or_else(|| of_name().next())
    }
}
