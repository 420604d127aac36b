//! The state of a job.

use std::collections::BTreeSet;

use super::details::Details;
use super::findings::FindingsAnew;
use super::item::{AgreedLine, Item, Slot};
use super::standing::{agreed, destroyed, erased, list, newer, open_requests, slot, withdrawn};
use crate::log::body::{
    Answer, Checked, Complaint, Damage, ErasureAsked, HandedOver, Measured, Note, Opened, Order, Photo,
    Published, PutBack, Question, Redo, Skipped, Spent, Step, TakenOut, Wait, WaitOver, field,
};
use crate::log::entry::{EntryId, SubjectId};
use crate::log::received::ReceivedEntry;
use crate::log::supersession::Supersession;
use crate::trade::{CameWith, Construction};

/// Everything a job's standing entries say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct JobState {
    /// The pair and the ticket it belongs to.
    pub opened: Option<Slot<Opened>>,
    /// Its plain fields.
    pub details: Details,
    /// Agreed work.
    pub agreed: Vec<AgreedLine>,
    /// Agreed work that will not be done.
    pub skipped: Vec<Item<Skipped>>,
    /// The order chosen for the remaining work.
    pub order: Option<Slot<Order>>,
    /// Photographs, but for those that were destroyed.
    pub photos: Vec<Item<Photo>>,
    /// Photographs of which the full picture or the thumbnail was destroyed: they cannot be shown.
    pub destroyed_photos: Vec<Item<Photo>>,
    /// SHA-256 of the blobs that this job's entries destroyed.
    pub destroyed: BTreeSet<String>,
    /// Standing requests to destroy one of its photographs or voice notes that have not been fulfilled.
    pub erasures_asked: Vec<Item<ErasureAsked>>,
    /// Work done.
    pub steps: Vec<Item<Step>>,
    /// Steps to be made again.
    pub redone: Vec<Item<Redo>>,
    /// What steps took, entered afterwards.
    pub spent: Vec<Item<Spent>>,
    /// Waits, running and over.
    pub waits: Vec<Item<Wait>>,
    /// The entries that ended waits.
    pub waits_over: Vec<Item<WaitOver>>,
    /// Damage.
    pub damage: Vec<Item<Damage>>,
    /// Parts taken out, whether they are back or not.
    pub taken_out: Vec<Item<TakenOut>>,
    /// Parts that are back.
    pub put_back: Vec<Item<PutBack>>,
    /// Questions to the customer.
    pub questions: Vec<Item<Question>>,
    /// The customer's answers.
    pub answers: Vec<Item<Answer>>,
    /// What was measured and calculated.
    pub measured: Vec<Item<Measured>>,
    /// Remarks.
    pub notes: Vec<Item<Note>>,
    /// The earlier work that this job repeats because of a complaint.
    pub complaint: Option<Slot<Complaint>>,
    /// Set once the final check is finished.
    pub checked: Option<Slot<Checked>>,
    /// Set once the pair has left the shop.
    pub handed_over: Option<Slot<HandedOver>>,
    /// Standing publications of its section of the card, in order.
    pub published: Vec<Item<Published>>,
    /// Standing withdrawals of its section of the card.
    pub withdrawn: BTreeSet<EntryId>,
    /// Whether an erasure has blanked it.
    pub erased: bool,
    /// Entries made by a newer app, which this one keeps but cannot show.
    pub newer: Vec<EntryId>,
}

impl JobState {
    /// Folds the entries of one job, or of several that are the same. Any order; no two of one id.
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Self {
        Self::of_standing(&Supersession::of(entries))
    }

    /// Folds the standing entries. Apart from `of`, which is compiled anew for every type of iterator it is given.
    fn of_standing(standing: &Supersession<'_>) -> Self {
        let destroyed = destroyed(standing);
        let gone = |item: &Item<Photo>| {
            let Photo { full, thumb, .. } = &item.body;
            destroyed.contains(&full.sha256) || destroyed.contains(&thumb.sha256)
        };
        let (destroyed_photos, photos) = list(standing).into_iter().partition(gone);
        let state = Self {
            opened: slot(standing),
            details: Details::of(standing),
            agreed: agreed(standing),
            skipped: list(standing),
            order: slot(standing),
            photos,
            destroyed_photos,
            destroyed,
            erasures_asked: open_requests(standing),
            steps: list(standing),
            redone: list(standing),
            spent: list(standing),
            waits: list(standing),
            waits_over: list(standing),
            damage: list(standing),
            taken_out: list(standing),
            put_back: list(standing),
            questions: list(standing),
            answers: list(standing),
            measured: list(standing),
            notes: list(standing),
            complaint: slot(standing),
            checked: slot(standing),
            handed_over: slot(standing),
            published: list(standing),
            withdrawn: withdrawn(standing),
            erased: erased(standing),
            newer: newer(standing),
        };
        state.following(&FindingsAnew::of(standing))
    }

    /// The state in which everything that is about a finding names the entry of it that stands.
    fn following(mut self, anew: &FindingsAnew) -> Self {
        if anew.is_empty() {
            return self;
        }
        for version in self.agreed.iter_mut().flat_map(|line| &mut line.versions) {
            anew.follow(&mut version.body.damage);
        }
        for question in &mut self.questions {
            anew.follow(&mut question.body.damage);
        }
        for photo in self.photos.iter_mut().chain(&mut self.destroyed_photos) {
            anew.follow(&mut photo.body.of);
        }
        for note in &mut self.notes {
            anew.follow(&mut note.body.of);
        }
        for finding in &mut self.damage {
            anew.date(finding);
        }
        self
    }

    /// The pair it belongs to.
    pub fn pair(&self) -> Option<SubjectId> {
        self.opened.as_ref()?.current.body.pair
    }

    /// The ticket it belongs to.
    pub fn ticket(&self) -> Option<SubjectId> {
        self.opened.as_ref()?.current.body.ticket
    }

    /// The number on the tag that hangs on the pair.
    pub fn tag(&self) -> Option<&str> {
        self.details.text(field::TAG)
    }

    /// Where the pair stands when it is ready.
    pub fn shelf(&self) -> Option<&str> {
        self.details.text(field::SHELF)
    }

    /// What came with the pair.
    pub fn came_with(&self) -> impl Iterator<Item = CameWith> {
        self.details.words(field::CAME_WITH).map(CameWith::from)
    }

    /// The construction as it was guessed at the counter.
    pub fn construction_guessed(&self) -> Option<Construction> {
        self.details
            .text(field::CONSTRUCTION_GUESSED)
            .map(Construction::from)
    }

    /// The construction as it was found when the pair was opened.
    pub fn construction_opened(&self) -> Option<Construction> {
        self.details
            .text(field::CONSTRUCTION_OPENED)
            .map(Construction::from)
    }

    /// The construction with which the pair left the shop.
    pub fn construction_left(&self) -> Option<Construction> {
        self.details
            .text(field::CONSTRUCTION_LEFT)
            .map(Construction::from)
    }

    /// The construction with which the pair came: as it was found when the pair was opened, otherwise as it was guessed.
    pub fn construction_before(&self) -> Option<Construction> {
        self.construction_opened().or_else(|| self.construction_guessed())
    }

    /// The latest that this job knows of the construction: as the pair left, otherwise as it came.
    pub fn construction_known(&self) -> Option<Construction> {
        self.construction_left().or_else(|| self.construction_before())
    }

    /// The construction with which the pair left the shop, if that is not the one with which it came; `None` also where
    /// one of the two is not known.
    pub fn construction_changed(&self) -> Option<Construction> {
        let (left, before) = (self.construction_left()?, self.construction_before()?);
        left.differs_from(&before).then_some(left)
    }

    /// Whether the bench does it before all other jobs.
    pub fn is_first(&self) -> bool {
        self.details.is(field::FIRST)
    }
}
