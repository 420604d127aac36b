//! What stays on the bench from one screen to the next: the pairs picked, photographs still on their way to the disk,
//! what can be undone, and the hand.

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use shared::log::{EntryId, SubjectId, UnixMs};
use shared::week::RunTold;

pub use app_core::undo::{Last, UndoScope};

use crate::device::screen::{Hand, when_lifted};
use crate::session::{Session, on_bench};
use app_core::browser::clock::now;
use app_core::commands;
use app_core::store::Saved;
use app_core::undo::{UndoItem, UndoPlace, UndoStack};
use shared::log::Draft;

/// For how long something can be undone: later it is put right where it stands.
const UNDO_FOR: Duration = Duration::from_secs(600);

/// What is not for now is for after so long, or for when a plan is asked for again.
const LATER_MS: i64 = 3 * 3_600_000;

/// What a screen puts right when something is taken back; the screen may have gone by then.
type UndoFollow = Arc<dyn Fn() + Send + Sync>;

/// The bench as this device has it. Cheap to copy; provided as a context.
#[derive(Clone, Copy)]
pub struct Selection {
    session: Session,
    picked: RwSignal<Vec<SubjectId>>,
    unsaved: RwSignal<u32>,
    done: RwSignal<UndoStack<UndoFollow>>,
    /// The number of the visit to the camera that goes on, and of the last one.
    visit: StoredValue<(Option<u32>, u32)>,
    hand: RwSignal<Hand>,
    /// Jobs that are not for the run that is on now, and until when.
    later: RwSignal<Vec<(SubjectId, UnixMs)>>,
    /// How often somebody has asked for another plan.
    again: RwSignal<u32>,
    /// The last plan.
    told: RwSignal<Option<RunTold>>,
}

impl Selection {
    /// An empty bench, laid out for the hand that this device knows.
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
            later: RwSignal::new(Vec::new()),
            again: RwSignal::new(0),
            told: RwSignal::new(None),
        }
    }

    /// The jobs picked, in the order they were picked.
    #[must_use]
    pub fn picked(self) -> RwSignal<Vec<SubjectId>> {
        self.picked
    }

    /// Picks a job, or lays it back.
    pub fn pick(self, job: SubjectId) {
        self.picked.update(|picked| {
            match picked.iter().position(|one| *one == job) {
                Some(at) => drop(picked.remove(at)),
                None => picked.push(job),
            };
        });
    }

    /// Leaves jobs out of the run that is on now, for some hours.
    pub fn not_now(self, jobs: &[SubjectId]) {
        let until = UnixMs(now().0 + LATER_MS);
        self.later
            .update(|later| later.extend(jobs.iter().map(|job| (*job, until))));
        self.session
            .tell("Put off for three hours, or until you plan from now.");
    }

    /// The jobs that are left out of it, followed.
    #[must_use]
    pub fn later(self) -> Vec<SubjectId> {
        let now = now();
        let later = self.later.get().into_iter();
        later
            .filter(|(_, until)| *until > now)
            .map(|(job, _)| job)
            .collect()
    }

    /// Changes whenever somebody has asked for another plan.
    #[must_use]
    pub fn planned_again(self) -> Signal<u32> {
        self.again.into()
    }

    /// The last plan: the Bench shows it until there is another, so that nothing moves when it is opened. `None` before the
    /// first.
    #[must_use]
    pub fn told(self) -> RwSignal<Option<RunTold>> {
        self.told
    }

    /// Asks for another plan, from now: somebody was away from the bench. What was left out comes back.
    pub fn plan_again(self) {
        self.later.set(Vec::new());
        self.session.tell("Planned from now.");
        self.again.update(|again| *again = again.wrapping_add(1));
    }

    /// Photographs taken and not yet on the disk, whichever screen took them.
    #[must_use]
    pub fn unsaved(self) -> RwSignal<u32> {
        self.unsaved
    }

    /// The hand that holds the device.
    #[must_use]
    pub fn hand(self) -> Signal<Hand> {
        self.hand.into()
    }

    /// Takes the device into the other hand, from now on.
    pub fn change_hand(self) {
        let other = match self.hand.get_untracked() {
            Hand::Right => Hand::Left,
            Hand::Left => Hand::Right,
        };
        other.lay_out();
        other.keep();
        self.hand.set(other);
    }

    /// Saves, says so, and can take it back.
    pub fn act(self, drafts: Vec<Draft>, said: impl Into<String>) {
        let said = said.into();
        self.session
            .save_and(drafts, move |saved| self.remember(&saved, said));
    }

    /// Remembers something saved, to be taken back.
    pub fn remember(self, saved: &Saved, said: impl Into<String>) {
        self.push(saved, said.into(), None);
    }

    /// The same, with what its screen puts right when it is taken back.
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
        // A finger on its way to "Undo" meets the line that it saw.
        when_lifted(move || self.done.update(|all| all.push(done)));
        let old = move || {
            self.done.try_update(|all| all.forget(first));
        };
        set_timeout(old, UNDO_FOR);
    }

    /// Where the person is.
    fn place(self) -> UndoPlace {
        match self.visit.get_value().0 {
            Some(number) => UndoPlace::Camera(number),
            None if on_bench() => UndoPlace::Bench,
            None => UndoPlace::Elsewhere,
        }
    }

    /// Begins a visit to the camera, which ends with the screen; its number.
    pub fn begin_visit(self) -> u32 {
        let (_, last) = self.visit.get_value();
        let number = last + 1;
        self.visit.set_value((Some(number), number));
        on_cleanup(move || {
            self.visit.update_value(|(now, _)| {
                // Unless the next has begun.
                if *now == Some(number) {
                    *now = None;
                }
            });
        });
        number
    }

    /// These have left the shop: what was done on them is no longer taken back in one tap.
    pub fn forget(self, jobs: &[SubjectId]) {
        self.done.update(|all| all.forget_on(jobs));
    }

    /// This entry has been taken back otherwise.
    pub fn forget_entry(self, entry: EntryId) {
        self.done.update(|all| all.forget_entry(entry));
    }

    /// What was done last; `None` when there is nothing to undo.
    #[must_use]
    pub fn last(self, whose: UndoScope) -> Option<Last> {
        self.done.with(|all| all.last(whose))
    }

    /// Takes back what a line tells of, and nothing else. The line stays until that is saved.
    pub fn undo(self, last: &Last) {
        let found = self.done.with_untracked(|all| all.find(last).cloned());
        if let Some(UndoItem {
            undo, follow, first, ..
        }) = found
        {
            let session = self.session;
            session.save_and(undo, move |_| {
                self.done.update(|all| all.forget(first));
                session.tell("Taken back.");
                if let Some(follow) = follow {
                    follow();
                }
            });
        }
    }
}

/// The bench of this page.
#[must_use]
pub fn use_selection() -> Selection {
    expect_context()
}
