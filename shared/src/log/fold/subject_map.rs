//! A few states by their subjects.

use crate::log::entry::SubjectId;

/// States by their subjects, in the order of the ids: a list, because a pair has a handful of tickets and customers, and a
/// tree for each kind of state would cost kilobytes of code in the app.
#[derive(Debug, Clone, PartialEq)]
pub struct SubjectMap<S>(Vec<(SubjectId, S)>);

impl<S> Default for SubjectMap<S> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<S> SubjectMap<S> {
    /// The state of a subject.
    pub fn get(&self, id: &SubjectId) -> Option<&S> {
        let (_, state) = self.0.iter().find(|(known, _)| known == id)?;
        Some(state)
    }

    /// Whether a subject is in it.
    pub fn contains_key(&self, id: &SubjectId) -> bool {
        self.get(id).is_some()
    }

    /// The subjects, in the order of the ids.
    pub fn keys(&self) -> impl DoubleEndedIterator<Item = &SubjectId> {
        self.0.iter().map(|(id, _)| id)
    }

    /// The states, in the order of the ids.
    pub fn values(&self) -> impl DoubleEndedIterator<Item = &S> {
        self.0.iter().map(|(_, state)| state)
    }

    /// Subjects and states, in the order of the ids.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (&SubjectId, &S)> {
        self.0.iter().map(|(id, state)| (id, state))
    }

    /// The subject with the greatest id, and its state.
    pub fn last_key_value(&self) -> Option<(&SubjectId, &S)> {
        self.iter().next_back()
    }
}

impl<S> FromIterator<(SubjectId, S)> for SubjectMap<S> {
    fn from_iter<I: IntoIterator<Item = (SubjectId, S)>>(states: I) -> Self {
        let mut all: Vec<_> = states.into_iter().collect();
        all.sort_by_key(|(id, _)| *id);
        Self(all)
    }
}
