//! What stays on the bench from one screen to the next: the pairs picked, photographs still on their way to the disk,
//! what can be undone, and the hand.

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use shared::log::{Body, EntryId, SubjectId, SubjectKind, UnixMs};
use shared::week::RunTold;

use crate::acts;
use crate::device::clock::now;
use crate::device::screen::Hand;
use crate::device::store::{Draft, Saved};
use crate::workshop::{Workshop, on_bench};

/// How many of the last doings can be undone one after the other.
const UNDOABLE: usize = 20;

/// And for how long: later it is put right where it stands.
const UNDO_FOR: Duration = Duration::from_secs(600);

/// What is not for now is for after so long, or for when a plan is asked for again.
const LATER_MS: i64 = 3 * 3_600_000;

/// What a screen puts right when something is taken back; the screen may have gone by then.
type Follow = Arc<dyn Fn() + Send + Sync>;

/// Whose doings can be taken back on a screen: what was done elsewhere is not in sight, and is taken back where it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// What was done on the Bench itself.
    Bench,
    /// What was done on a job or a ticket.
    Of(SubjectId),
    /// What was done to the shop.
    Shop,
}

/// Something done, and how to take it back.
#[derive(Clone)]
struct Done {
    said: String,
    /// The first entry of it, by which it is known.
    first: Option<EntryId>,
    undo: Vec<Draft>,
    follow: Option<Follow>,
    /// Whether it was done on the Bench.
    on_bench: bool,
}

impl Done {
    fn is(&self, whose: Whose) -> bool {
        match whose {
            Whose::Bench => self.on_bench,
            Whose::Of(one) => self.is_on(one),
            Whose::Shop => self
                .undo
                .iter()
                .any(|draft| draft.subject.kind == SubjectKind::Shop),
        }
    }

    fn is_on(&self, one: SubjectId) -> bool {
        self.undo.iter().any(|draft| draft.subject.id == one)
    }
}

/// The bench as this device has it. Cheap to copy; provided as a context.
#[derive(Clone, Copy)]
pub struct Workbench {
    workshop: Workshop,
    picked: RwSignal<Vec<SubjectId>>,
    unsaved: RwSignal<u32>,
    done: RwSignal<Vec<Done>>,
    hand: RwSignal<Hand>,
    /// Jobs that are not for the run that is on now, and until when.
    later: RwSignal<Vec<(SubjectId, UnixMs)>>,
    /// How often somebody has asked for another plan.
    again: RwSignal<u32>,
    /// The last plan.
    told: RwSignal<Option<RunTold>>,
}

impl Workbench {
    /// An empty bench, laid out for the hand that this device knows.
    #[must_use]
    pub fn new(workshop: Workshop) -> Self {
        let hand = Hand::kept();
        hand.lay_out();
        Self {
            workshop,
            picked: RwSignal::new(Vec::new()),
            unsaved: RwSignal::new(0),
            done: RwSignal::new(Vec::new()),
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
        self.workshop
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
        self.workshop.tell("Planned from now.");
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
        self.workshop
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

    fn push(self, saved: &Saved, said: String, follow: Option<Follow>) {
        let first = saved.entries.first().map(|held| held.entry.id);
        self.done.update(|done| {
            if done.len() == UNDOABLE {
                done.remove(0);
            }
            done.push(Done {
                said,
                first,
                undo: acts::undo_all(saved),
                follow,
                on_bench: on_bench(),
            });
        });
        let old = move || {
            self.done.try_update(|done| done.retain(|one| one.first != first));
        };
        set_timeout(old, UNDO_FOR);
    }

    /// These have left the shop: what was done on them is no longer taken back in one tap.
    pub fn forget(self, jobs: &[SubjectId]) {
        self.done
            .update(|done| done.retain(|one| !jobs.iter().any(|job| one.is_on(*job))));
    }

    /// This entry has been taken back otherwise.
    pub fn forget_entry(self, entry: EntryId) {
        let hides = |draft: &Draft| matches!(&draft.body, Body::Retracted(hidden) if hidden.entry == entry);
        self.done
            .update(|done| done.retain(|one| !one.undo.iter().any(hides)));
    }

    /// What was done last, in words; `None` when there is nothing to undo.
    #[must_use]
    pub fn last(self, whose: Whose) -> Option<String> {
        self.done.with(|done| {
            let last = done.iter().rev().find(|one| one.is(whose));
            last.map(|last| last.said.clone())
        })
    }

    /// Takes back what was done last.
    pub fn undo(self, whose: Whose) {
        let taken = self.done.try_update(|done| {
            let at = done.iter().rposition(|one| one.is(whose))?;
            Some(done.remove(at))
        });
        let last = taken.flatten();
        if let Some(Done { undo, follow, .. }) = last {
            let workshop = self.workshop;
            workshop.save_and(undo, move |_| {
                workshop.tell("Taken back.");
                if let Some(follow) = follow {
                    follow();
                }
            });
        }
    }
}

/// The bench of this page.
#[must_use]
pub fn use_workbench() -> Workbench {
    expect_context()
}
