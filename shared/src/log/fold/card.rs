//! The care card as the customer sees it: which published sections of a pair's card are shown.

use std::collections::BTreeSet;

use words::Language;

use super::gather::PairHistory;
use crate::log::body::{CardPhoto, Section};
use crate::log::entry::{EntryId, SubjectId};
use crate::log::inserted;

/// A shown section.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// The job it describes.
    pub job: SubjectId,
    /// The publication that contains it.
    pub entry: EntryId,
    /// Its content, without the photographs that were destroyed since it was published.
    pub section: Section,
    /// SHA-256 of those photographs.
    pub destroyed: Vec<String>,
}

/// What a visitor with a card link is shown.
#[derive(Debug, Clone, PartialEq)]
pub enum Card {
    /// Nothing has been published yet.
    NotYet,
    /// Everything published has been taken back.
    Withdrawn,
    /// One section per job, newest first.
    Sections(Vec<Shown>),
}

impl Card {
    /// The language of its newest section; British English for a card without one.
    pub fn language(&self) -> Language {
        let Card::Sections(shown) = self else {
            return Language::default();
        };
        let tag = shown.first().and_then(|one| one.section.language.as_deref());
        tag.map(Language::of).unwrap_or_default()
    }

    /// The card of a pair.
    ///
    /// Of each job, the card shows the greatest publication whose maker knew every standing withdrawal of the job and
    /// of the pair. A withdrawal that was not known when the section was published therefore wins, and one job never
    /// hides another's section.
    pub fn of(history: &PairHistory) -> Card {
        let mut any = false;
        let mut shown = Vec::new();
        let destroyed = history.jobs.values().flat_map(|job| &job.destroyed);
        let destroyed: BTreeSet<&str> = inserted(destroyed.map(String::as_str));
        for (job, state) in &history.jobs {
            any |= !state.published.is_empty();
            let sections = state.published.iter().rev();
            let seen = |seen: &[EntryId]| {
                let seen: BTreeSet<_> = inserted(seen.iter().copied());
                let mut withdrawn = history.pair.withdrawn.iter().chain(&state.withdrawn);
                withdrawn.all(|id| seen.contains(id))
            };
            if let Some(item) = sections.into_iter().find(|item| seen(&item.body.seen)) {
                let mut section = (*item.body.section).clone();
                let gone = |photo: &CardPhoto| destroyed.contains(photo.blob.sha256.as_str());
                let (gone, left): (Vec<_>, Vec<_>) = section.photos.into_iter().partition(gone);
                section.photos = left;
                shown.push(Shown {
                    job: *job,
                    entry: item.entry,
                    section,
                    destroyed: gone.into_iter().map(|photo| photo.blob.sha256).collect(),
                });
            }
        }
        shown.sort_by(|a, b| (&b.section.day, b.entry).cmp(&(&a.section.day, a.entry)));
        match (shown.is_empty(), any) {
            (false, _) => Card::Sections(shown),
            (true, true) => Card::Withdrawn,
            (true, false) => Card::NotYet,
        }
    }

    /// Whether a shown section lists this blob; only then may the card serve it.
    pub fn lists(&self, sha256: &str) -> bool {
        match self {
            Card::Sections(shown) => shown
                .iter()
                .flat_map(|one| &one.section.photos)
                .any(|photo| photo.blob.sha256 == sha256),
            Card::NotYet | Card::Withdrawn => false,
        }
    }

    /// Whether a shown section listed this blob and it was destroyed since.
    pub fn has_destroyed(&self, sha256: &str) -> bool {
        match self {
            Card::Sections(shown) => shown
                .iter()
                .flat_map(|one| &one.destroyed)
                .any(|hash| hash == sha256),
            Card::NotYet | Card::Withdrawn => false,
        }
    }
}
