//! Undo: what was done on this device and can be undone, and where it was done. Pure.

use shared::log::{Body, EntryId, SubjectId, SubjectKind};

use shared::log::Draft;

/// How many of the last actions can be undone one after the other.
const UNDOABLE: usize = 20;

/// Where an action was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UndoPlace {
    /// On the Bench itself.
    Bench,
    /// At the camera, during the visit with this number.
    Camera(u32),
    /// Where files are brought in.
    Bring,
    /// On any other screen.
    Elsewhere,
}

/// Which actions can be undone on a screen. Actions on other screens are not visible there, and are undone where they
/// were made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UndoScope {
    /// Actions on the Bench itself.
    Bench,
    /// Actions on a job or a ticket.
    Of(SubjectId),
    /// Actions during a visit to the camera, on any pair, and earlier actions on the pair that is being photographed.
    Visit {
        /// The number of the visit.
        number: u32,
        /// The job that is being photographed.
        job: SubjectId,
    },
    /// Actions on the shop.
    Shop,
    /// Actions on materials of the shelf.
    Shelf,
    /// What files have brought in.
    Bring,
}

/// An action, and how to undo it. `F` is what the screen must restore as well.
#[derive(Debug, Clone)]
pub struct UndoItem<F> {
    /// What was done, in words.
    pub said: String,
    /// The first entry of the action, which identifies it.
    pub first: EntryId,
    /// The drafts that undo it.
    pub undo: Vec<Draft>,
    /// What the screen restores when it is undone.
    pub follow: Option<F>,
    /// Where it was done.
    pub place: UndoPlace,
}

impl<F> UndoItem<F> {
    fn is(&self, whose: UndoScope) -> bool {
        match whose {
            UndoScope::Bench => self.place == UndoPlace::Bench,
            UndoScope::Of(one) => self.is_on(one),
            UndoScope::Visit { number, job } => self.place == UndoPlace::Camera(number) || self.is_on(job),
            UndoScope::Shop => self.is_on_a(&SubjectKind::Shop),
            UndoScope::Shelf => self.is_on_a(&SubjectKind::Material),
            UndoScope::Bring => self.place == UndoPlace::Bring,
        }
    }

    fn is_on_a(&self, kind: &SubjectKind) -> bool {
        self.undo.iter().any(|draft| draft.subject.kind == *kind)
    }

    fn is_on(&self, one: SubjectId) -> bool {
        self.undo.iter().any(|draft| draft.subject.id == one)
    }

    fn hides(&self, entry: EntryId) -> bool {
        let hidden = |draft: &Draft| matches!(&draft.body, Body::Retracted(hidden) if hidden.entry == entry);
        self.undo.iter().any(hidden)
    }
}

/// The last action that a screen shows. "Undo" beside it undoes this action and no other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Last {
    /// The line on the screen.
    pub said: String,
    /// The action it describes.
    pub first: EntryId,
}

/// The last actions, in the order in which they were saved.
#[derive(Debug, Clone)]
pub struct UndoStack<F>(Vec<UndoItem<F>>);

impl<F> Default for UndoStack<F> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<F> UndoStack<F> {
    /// Adds an action that was just saved; if there are too many, the oldest is dropped.
    pub fn push(&mut self, done: UndoItem<F>) {
        if self.0.len() == UNDOABLE {
            self.0.remove(0);
        }
        self.0.push(done);
    }

    /// The last action in a scope; `None` if there is none to undo.
    pub fn last(&self, whose: UndoScope) -> Option<Last> {
        let last = self.0.iter().rev().find(|one| one.is(whose))?;
        Some(Last {
            said: last.said.clone(),
            first: last.first,
        })
    }

    /// The action that a line describes; `None` if it was undone or dropped meanwhile.
    pub fn find(&self, last: &Last) -> Option<&UndoItem<F>> {
        self.0.iter().find(|one| one.first == last.first)
    }

    /// Drops an action, so that it can no longer be undone in one tap.
    pub fn forget(&mut self, first: EntryId) {
        self.0.retain(|one| one.first != first);
    }

    /// Drops all actions on these subjects.
    pub fn forget_on(&mut self, subjects: &[SubjectId]) {
        self.0
            .retain(|one| !subjects.iter().any(|subject| one.is_on(*subject)));
    }

    /// Drops the actions that include this entry, which was undone in another way.
    pub fn forget_entry(&mut self, entry: EntryId) {
        self.0.retain(|one| !one.hides(entry));
    }
}

#[cfg(test)]
mod tests {
    use shared::log::Subject;

    use super::*;
    use crate::commands::scene::{entry, subject};
    use crate::commands::undo;

    fn done(n: u128, said: &str, on: &[u128], place: UndoPlace) -> UndoItem<()> {
        done_on(&SubjectKind::Job, n, said, on, place)
    }

    fn done_on(kind: &SubjectKind, n: u128, said: &str, on: &[u128], place: UndoPlace) -> UndoItem<()> {
        let takes_back = |on: &u128| undo(Subject::new(kind.clone(), subject(*on)), entry(n));
        UndoItem {
            said: said.to_owned(),
            first: entry(n),
            undo: on.iter().map(takes_back).collect(),
            follow: None,
            place,
        }
    }

    fn visit(number: u32, job: u128) -> UndoScope {
        UndoScope::Visit {
            number,
            job: subject(job),
        }
    }

    #[test]
    fn at_the_camera_the_last_is_what_was_done_last_whichever_pair_it_was_on() {
        let at = UndoPlace::Camera(1);
        let mut all = UndoStack::default();
        all.push(done(1, "Photograph of 323 saved.", &[323], at));
        all.push(done(2, "Photograph of 325 saved.", &[325], at));
        all.push(done(3, "Moved to 324.", &[323, 324], at));
        let last = all.last(visit(1, 325)).expect("something was done");
        assert_eq!(last.said, "Moved to 324.");
        let taken = all.find(&last).expect("it can be taken back");
        assert!(!taken.is_on(subject(325)), "the third pair keeps its photograph");
        all.forget(last.first);
        assert_eq!(
            all.last(visit(1, 325)).map(|last| last.said).as_deref(),
            Some("Photograph of 325 saved.")
        );
    }

    #[test]
    fn a_later_visit_shows_what_was_done_on_its_own_pair_only() {
        let mut all = UndoStack::default();
        all.push(done(1, "Half soles noted.", &[7], UndoPlace::Elsewhere));
        all.push(done(2, "Photograph of 8 saved.", &[8], UndoPlace::Camera(1)));
        assert_eq!(
            all.last(visit(2, 7)).map(|last| last.said).as_deref(),
            Some("Half soles noted.")
        );
        assert_eq!(all.last(visit(2, 9)), None);
    }

    /// An arrival is saved with the ends of the waits of jobs.
    #[test]
    fn what_was_done_on_the_shelf_is_taken_back_there() {
        let elsewhere = UndoPlace::Elsewhere;
        let mut arrival = done_on(&SubjectKind::Material, 1, "Rubber has come.", &[5], elsewhere);
        arrival.undo.extend(done(1, "", &[7], elsewhere).undo);
        let mut all = UndoStack::default();
        all.push(arrival);
        all.push(done(2, "Half soles noted.", &[8], elsewhere));
        let last = |scope| all.last(scope).map(|last| last.said);
        assert_eq!(last(UndoScope::Shelf).as_deref(), Some("Rubber has come."));
        assert_eq!(
            last(UndoScope::Of(subject(7))).as_deref(),
            Some("Rubber has come.")
        );
        assert_eq!(last(UndoScope::Shop), None);
    }

    #[test]
    fn what_a_file_brought_in_is_taken_back_where_files_are_brought_in() {
        let mut all = UndoStack::default();
        let customers = [5, 6, 7];
        let brought = done_on(
            &SubjectKind::Customer,
            1,
            "3 customers.",
            &customers,
            UndoPlace::Bring,
        );
        all.push(brought);
        all.push(done_on(
            &SubjectKind::Shop,
            2,
            "Saved.",
            &[8],
            UndoPlace::Elsewhere,
        ));
        let last = all.last(UndoScope::Bring).expect("something was brought in");
        assert_eq!(last.said, "3 customers.");
        assert_eq!(
            all.find(&last).map(|done| done.undo.len()),
            Some(3),
            "all of it at once"
        );
        assert_eq!(
            all.last(UndoScope::Shop).map(|last| last.said).as_deref(),
            Some("Saved.")
        );
    }

    #[test]
    fn what_came_after_the_line_was_drawn_is_not_what_it_takes_back() {
        let mut all = UndoStack::default();
        all.push(done(1, "One.", &[7], UndoPlace::Bench));
        let shown = all.last(UndoScope::Bench).expect("shown");
        all.push(done(2, "Two.", &[7], UndoPlace::Bench));
        assert_eq!(all.find(&shown).map(|done| done.said.as_str()), Some("One."));
        all.forget(shown.first);
        assert!(
            all.find(&shown).is_none(),
            "a second tap on the same line takes back nothing more"
        );
        assert_eq!(
            all.last(UndoScope::Bench).map(|last| last.said).as_deref(),
            Some("Two.")
        );
    }
}
