//! A few states by their subjects.

use crate::log::entry::SubjectId;

/// States by their subjects, in the order of the ids: a list, because a tree for each kind of state would cost kilobytes of
/// code in the app. Subjects that are the same thing share one state.
#[derive(Debug, Clone, PartialEq)]
pub struct SubjectMap<S> {
    /// Each subject with the place of its state.
    places: Vec<(SubjectId, usize)>,
    states: Vec<S>,
}

impl<S> Default for SubjectMap<S> {
    fn default() -> Self {
        Self::shared(Vec::new())
    }
}

impl<S> SubjectMap<S> {
    /// States, each with all subjects that have it. No subject may have two.
    pub fn shared(states: Vec<(Vec<SubjectId>, S)>) -> Self {
        let mut all = Self {
            places: Vec::new(),
            states: Vec::new(),
        };
        for (ids, state) in states.into_iter().filter(|(ids, _)| !ids.is_empty()) {
            let place = all.states.len();
            all.places.extend(ids.into_iter().map(|id| (id, place)));
            all.states.push(state);
        }
        all.places.sort_by_key(|(id, _)| *id);
        all
    }

    /// The state of a subject.
    pub fn get(&self, id: &SubjectId) -> Option<&S> {
        let at = self.places.binary_search_by_key(id, |(known, _)| *known).ok()?;
        let (_, place) = self.places.get(at)?;
        self.states.get(*place)
    }

    /// Whether a subject is in it.
    pub fn contains_key(&self, id: &SubjectId) -> bool {
        self.get(id).is_some()
    }

    /// The subjects, in the order of the ids.
    pub fn keys(&self) -> impl DoubleEndedIterator<Item = &SubjectId> {
        self.places.iter().map(|(id, _)| id)
    }

    /// The states, in the order of the ids; one that several subjects share comes with each of them.
    pub fn values(&self) -> impl DoubleEndedIterator<Item = &S> {
        self.iter().map(|(_, state)| state)
    }

    /// Subjects and states, in the order of the ids.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (&SubjectId, &S)> {
        let states = &self.states;
        self.places
            .iter()
            .filter_map(move |(id, place)| Some((id, states.get(*place)?)))
    }

    /// The subject with the greatest id, and its state.
    pub fn last_key_value(&self) -> Option<(&SubjectId, &S)> {
        self.iter().next_back()
    }
}

impl<S> FromIterator<(SubjectId, S)> for SubjectMap<S> {
    fn from_iter<I: IntoIterator<Item = (SubjectId, S)>>(states: I) -> Self {
        Self::shared(states.into_iter().map(|(id, state)| (vec![id], state)).collect())
    }
}
