//! Collecting everything of one customer from a store.

use std::collections::BTreeSet;

use shared::log::body::{Blob, Body, Opened};
use shared::log::fold::{Entries, TicketState};
use shared::log::sameness::class_of;
use shared::log::{ReceivedEntry, Subject, SubjectId, SubjectKind};

/// Everything of one customer.
///
/// A pair that several customers have brought is in it with its own description and remarks, but of its tickets and jobs
/// only those of this customer. Settings, prices and people of the shop are not in it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CustomerRecords {
    /// The customer under every id, then each pair followed by its jobs, then jobs without a pair, then the tickets.
    pub subjects: Vec<Subject>,
    /// Every entry about these subjects, by id.
    pub entries: Vec<ReceivedEntry>,
}

/// A photograph or voice note that an entry names.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedBlob {
    /// The subject of the entry.
    pub subject: SubjectId,
    /// The picture in full, or the sound.
    pub full: Blob,
    /// The small picture, which is shown where the full one cannot be had.
    pub thumb: Option<Blob>,
}

impl CustomerRecords {
    /// The entries about one of the subjects.
    pub(in crate::commands) fn about(&self, subject: &Subject) -> Vec<&ReceivedEntry> {
        let entries = self.entries.iter();
        entries
            .filter(|received| received.entry.subject.id == subject.id)
            .collect()
    }

    /// The photographs and voice notes, each once.
    pub fn blobs(&self) -> Vec<NamedBlob> {
        let mut all: Vec<NamedBlob> = Vec::new();
        for ReceivedEntry { entry, .. } in &self.entries {
            let named = match Body::of(entry) {
                Body::Photo(photo) => vec![(photo.full, Some(photo.thumb))],
                Body::Note(note) => note.voice.into_iter().map(|voice| (voice, None)).collect(),
                Body::Published(published) => {
                    let photos = published.section.photos.into_iter();
                    photos.map(|photo| (photo.blob, None)).collect()
                }
                _ => Vec::new(),
            };
            for (full, thumb) in named {
                if !all.iter().any(|known| known.full.sha256 == full.sha256) {
                    let subject = entry.subject.id;
                    all.push(NamedBlob { subject, full, thumb });
                }
            }
        }
        all
    }
}

/// Collects [`CustomerRecords`], asking for one subject after another: hand [`CustomerLoader::give`] what the store has
/// about each of [`CustomerLoader::wanted`] until nothing is wanted, then [`CustomerLoader::finish`].
///
/// It follows links from the customer to tickets and pairs, and from these to jobs, but never through the ticket of another
/// customer. What it reads too much, `finish` leaves out.
#[derive(Debug)]
pub struct CustomerLoader {
    start: SubjectId,
    known: Vec<Subject>,
    wanted: Vec<SubjectId>,
    entries: Entries,
}

impl CustomerLoader {
    /// Begins at a customer, by any of their ids.
    pub fn new(start: SubjectId) -> Self {
        Self {
            start,
            known: vec![Subject::new(SubjectKind::Customer, start)],
            wanted: vec![start],
            entries: Entries::default(),
        }
    }

    /// The subjects to look up next; empty when done.
    pub fn wanted(&mut self) -> Vec<SubjectId> {
        std::mem::take(&mut self.wanted)
    }

    /// Takes in every entry [`about`](shared::log::about()) `id`, the oldest first.
    pub fn give(&mut self, id: SubjectId, about: Vec<ReceivedEntry>) {
        let Some(at) = self.known.iter().find(|known| known.id == id).cloned() else {
            return;
        };
        let theirs = at.kind == SubjectKind::Customer || about.iter().any(|held| self.is_theirs(&at, held));
        for received in about {
            self.follow(&at, theirs, &received);
            self.entries.take(received);
        }
    }

    /// Whether this entry opens the subject `at` and names this customer, under an id that is known by now.
    fn is_theirs(&self, at: &Subject, received: &ReceivedEntry) -> bool {
        let customer = match Body::of(&received.entry) {
            Body::Opened(opened) if received.entry.subject == *at => opened.customer,
            _ => None,
        };
        let known = |id| Subject::new(SubjectKind::Customer, id);
        customer.is_some_and(|id| self.known.contains(&known(id)))
    }

    /// Adds the subjects that one entry about `at` links to. `theirs`: whether `at` is this customer, or names them.
    fn follow(&mut self, at: &Subject, theirs: bool, received: &ReceivedEntry) {
        let subject = &received.entry.subject;
        let of_kind = |kind, id: Option<SubjectId>| id.map(|id| Subject::new(kind, id));
        let links = match Body::of(&received.entry) {
            Body::SameAs(same) if subject.kind == at.kind => {
                let other = of_kind(at.kind.clone(), Some(same.other));
                [Some(subject.clone()), other]
            }
            Body::Opened(opened) if subject == at && at.kind == SubjectKind::Job => [
                of_kind(SubjectKind::Pair, opened.pair),
                of_kind(SubjectKind::Ticket, opened.ticket),
            ],
            Body::Opened(_) if theirs => [Some(subject.clone()), None],
            _ => return,
        };
        for link in links.into_iter().flatten() {
            self.want(link, at.kind == SubjectKind::Customer);
        }
    }

    /// Wants a subject, unless it is known. What belongs to a customer is wanted again although it is known: it may have been
    /// read when this id of the customer was not known yet. No customer is, so this has an end.
    fn want(&mut self, subject: Subject, of_customer: bool) {
        match self.known.iter().find(|known| known.id == subject.id) {
            None => {
                self.wanted.push(subject.id);
                self.known.push(subject);
            }
            Some(known) if of_customer && known.kind != SubjectKind::Customer => self.wanted.push(subject.id),
            Some(_) => {}
        }
    }

    /// Sorts out what is this customer's.
    pub fn finish(self) -> CustomerRecords {
        let customer = class_of(self.start, self.entries.iter());
        let mut subjects = self.of_kind(&SubjectKind::Customer, |subject| customer.contains(&subject.id));
        let jobs = self.of_kind(&SubjectKind::Job, |job| self.is_their_job(job, &customer));
        for pair in self.of_kind(&SubjectKind::Pair, |_| true) {
            let of_pair = |job: &&Subject| self.opened(job.id).pair == Some(pair.id);
            let of_pair: Vec<_> = jobs.iter().filter(of_pair).cloned().collect();
            if !of_pair.is_empty() || self.names(pair.id, &customer) == Some(true) {
                subjects.push(pair);
                subjects.extend(of_pair);
            }
        }
        let lone: Vec<_> = jobs.into_iter().filter(|job| !subjects.contains(job)).collect();
        subjects.extend(lone);
        subjects.extend(self.of_kind(&SubjectKind::Ticket, |ticket| {
            self.names(ticket.id, &customer) == Some(true)
        }));
        let entries = self.entries.iter();
        let entries = entries
            .filter(|held| subjects.iter().any(|subject| subject.id == held.entry.subject.id))
            .cloned();
        CustomerRecords {
            entries: entries.collect(),
            subjects,
        }
    }

    /// The known subjects of a kind for which `is` holds.
    fn of_kind(&self, kind: &SubjectKind, is: impl Fn(&Subject) -> bool) -> Vec<Subject> {
        let of_kind = self.known.iter().filter(|known| known.kind == *kind);
        of_kind.filter(|known| is(known)).cloned().collect()
    }

    /// Whether a job is this customer's: by its ticket, or by its pair where the ticket names nobody.
    fn is_their_job(&self, job: &Subject, customer: &BTreeSet<SubjectId>) -> bool {
        let opened = self.opened(job.id);
        let by_ticket = opened.ticket.and_then(|ticket| self.names(ticket, customer));
        let by_pair = || opened.pair.and_then(|pair| self.names(pair, customer));
        by_ticket.or_else(by_pair) == Some(true)
    }

    /// Whether a ticket or pair names this customer; `None` if it names nobody.
    fn names(&self, id: SubjectId, customer: &BTreeSet<SubjectId>) -> Option<bool> {
        let named = self.opened(id).customer?;
        Some(customer.contains(&named))
    }

    /// What a subject belongs to, of whatever kind it is: opening is read alike for all of them.
    fn opened(&self, id: SubjectId) -> Opened {
        let same = class_of(id, self.entries.iter());
        let entries = self.entries.iter();
        let entries: Vec<&ReceivedEntry> = entries
            .filter(|received| same.contains(&received.entry.subject.id))
            .collect();
        let opened = TicketState::of(entries).opened;
        opened.map_or_else(Opened::default, |slot| slot.current.body)
    }
}
