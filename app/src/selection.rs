//! What stays from one screen to the next: the pairs picked, photographs that are being saved, what can be undone, and
//! the hand that holds the device.

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use shared::log::{EntryId, SubjectId};
use shared::week::WeekPlan;

pub use app_core::undo::{Last, UndoScope};

use crate::device::screen::{Hand, when_lifted};
use crate::session::{Session, is_shown};
use app_core::commands;
use app_core::store::Saved;
use app_core::undo::{UndoItem, UndoPlace, UndoStack};
use shared::log::Draft;

/// For how long an action can be undone. After that it is corrected on the screen of its pair.
const UNDO_FOR: Duration = Duration::from_secs(600);

/// What the screen of an action has to correct when the action is undone. It may be called after that screen has gone.
type UndoFollow = Arc<dyn Fn() + Send + Sync>;

/// The state that this device's screens share about work at the bench. Cheap to copy; provided as a context.
#[derive(Clone, Copy)]
pub struct Selection {
    session: Session,
    picked: RwSignal<Vec<SubjectId>>,
    unsaved: RwSignal<u32>,
    done: RwSignal<UndoStack<UndoFollow>>,
    /// The number of the current visit to the camera, if one is under way, and of the latest one.
    visit: StoredValue<(Option<u32>, u32)>,
    hand: RwSignal<Hand>,
    /// The latest plan.
    told: RwSignal<Option<WeekPlan>>,
}

impl Selection {
    /// Nothing picked; lays the page out for the hand that this device remembers.
    #[must_use]
    pub fn new(session: Session) -> Self {
        let hand = Hand::kept();
        hand.lay_out();
        Self {
            session,
            picked: RwSignal::new(Vec::new()),
            unsaved: RwSignal::new(0),
            done: RwSignal::new(UndoStack::default()),
            visit: StoredValue::new((None, 0)),
            hand: RwSignal::new(hand),
            told: RwSignal::new(None),
        }
    }

    /// The jobs picked, in the order of picking.
    #[must_use]
    pub fn picked(self) -> RwSignal<Vec<SubjectId>> {
        self.picked
    }

    /// Picks a job, or unpicks it if it is picked.
    pub fn pick(self, job: SubjectId) {
        self.picked.update(|picked| {
            match picked.iter().position(|one| *one == job) {
                Some(at) => drop(picked.remove(at)),
                None => picked.push(job),
            };
        });
    }

    /// The latest plan, `None` before the first. When the Bench is opened it shows this until there is another, so that
    /// nothing moves.
    #[must_use]
    pub fn told(self) -> RwSignal<Option<WeekPlan>> {
        self.told
    }

    /// How many photographs were taken and are not stored yet, on any screen.
    #[must_use]
    pub fn unsaved(self) -> RwSignal<u32> {
        self.unsaved
    }

    /// The hand that holds the device.
    #[must_use]
    pub fn hand(self) -> Signal<Hand> {
        self.hand.into()
    }

    /// Switches to the other hand and lays the page out for it.
    pub fn change_hand(self) {
        let other = match self.hand.get_untracked() {
            Hand::Right => Hand::Left,
            Hand::Left => Hand::Right,
        };
        other.lay_out();
        other.keep();
        self.hand.set(other);
    }

    /// Saves drafts, tells the person `said`, and lets them undo it.
    pub fn act(self, drafts: Vec<Draft>, said: impl Into<String>) {
        let said = said.into();
        self.session
            .save_and(drafts, move |saved| self.remember(&saved, said));
    }

    /// Lets the person undo something that has been saved.
    pub fn remember(self, saved: &Saved, said: impl Into<String>) {
        self.push(saved, said.into(), None);
    }

    /// The same, with a function that is called after it was undone.
    pub fn remember_and(
        self,
        saved: &Saved,
        said: impl Into<String>,
        follow: impl Fn() + Send + Sync + 'static,
    ) {
        self.push(saved, said.into(), Some(Arc::new(follow)));
    }

    fn push(self, saved: &Saved, said: String, follow: Option<UndoFollow>) {
        let Some(first) = saved.entries.first().map(|held| held.entry.id) else {
            return;
        };
        let done = UndoItem {
            said,
            first,
            undo: commands::undo_all(saved),
            follow,
            place: self.place(),
        };
        // Not while a finger is down: it may be about to tap "Undo" beside the line that it shows now.
        when_lifted(move || self.done.update(|all| all.push(done)));
        let old = move || {
            self.done.try_update(|all| all.forget(first));
        };
        set_timeout(old, UNDO_FOR);
    }

    /// Where the person is: an action is offered for undoing in its own place only.
    fn place(self) -> UndoPlace {
        match self.visit.get_value().0 {
            Some(number) => UndoPlace::Camera(number),
            None if is_shown("/") => UndoPlace::Bench,
            None if is_shown("/shop/bring") => UndoPlace::Bring,
            None => UndoPlace::Elsewhere,
        }
    }

    /// Begins a visit to the camera, which ends with the current reactive owner. Returns its number.
    pub fn begin_visit(self) -> u32 {
        let (_, last) = self.visit.get_value();
        let number = last + 1;
        self.visit.set_value((Some(number), number));
        on_cleanup(move || {
            self.visit.update_value(|(now, _)| {
                // Unless the next visit has begun.
                if *now == Some(number) {
                    *now = None;
                }
            });
        });
        number
    }

    /// Removes the actions on these jobs from what can be undone, because their pairs have left the shop.
    pub fn forget(self, jobs: &[SubjectId]) {
        self.done.update(|all| all.forget_on(jobs));
    }

    /// Removes an action from what can be undone, because its entry was taken back in another way.
    pub fn forget_entry(self, entry: EntryId) {
        self.done.update(|all| all.forget_entry(entry));
    }

    /// The latest action that can be undone, among those that `whose` names; `None` if there is none.
    #[must_use]
    pub fn last(self, whose: UndoScope) -> Option<Last> {
        self.done.with(|all| all.last(whose))
    }

    /// Undoes the action that a line names, and no other. The line stays until that is saved.
    pub fn undo(self, last: &Last) {
        let found = self.done.with_untracked(|all| all.find(last).cloned());
        if let Some(UndoItem {
            undo, follow, first, ..
        }) = found
        {
            let session = self.session;
            session.save_and(undo, move |_| {
                self.done.update(|all| all.forget(first));
                session.tell(words::session::undone());
                if let Some(follow) = follow {
                    follow();
                }
            });
        }
    }
}

/// The selection of this page.
#[must_use]
pub fn use_selection() -> Selection {
    expect_context()
}
