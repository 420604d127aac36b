//! Tests of the histories of many pairs that are the same pair.

use shared::log::body::{Body, Retracted, SameAs};
use shared::log::{Draft, Subject, SubjectKind, UnixMs};

use super::super::KvStore;
use super::super::memory::{Memory, now};
use super::super::scripted::Scripted;
use super::super::surroundings::Surroundings;
use super::*;

type Store = KvStore<Memory, Scripted>;

fn pair(around: &Scripted) -> Subject {
    Subject::new(SubjectKind::Pair, around.new_subject())
}

/// Saves that each of these pairs is the same as the one before it. Returns the entries that say so.
fn join(store: &Store, pairs: &[Subject]) -> Vec<(Subject, EntryId)> {
    let joins = pairs.iter().zip(&pairs[1..]);
    let joins = joins.map(|(one, next)| Draft::new(next.clone(), Body::SameAs(SameAs { other: one.id })));
    let saved = now(store.save(joins.collect(), Vec::new())).unwrap().entries;
    let entries = saved.into_iter().map(|received| received.entry);
    entries.map(|entry| (entry.subject, entry.id)).collect()
}

/// For each history of these pairs, which of them it is of.
fn histories(store: &Store, pairs: &[Subject]) -> Vec<BTreeSet<SubjectId>> {
    let ids: Vec<_> = pairs.iter().map(|pair| pair.id).collect();
    let found = now(async { store.lookup().await.unwrap().histories(&ids).await }).unwrap();
    assert!(found.iter().all(|one| one.known));
    found.into_iter().map(|one| one.history.same).collect()
}

#[test]
fn pairs_that_are_the_same_have_one_history_however_many_they_are() {
    let around = Scripted::new(1, UnixMs(1_772_438_400_000));
    let store = now(Store::open(Memory::default(), around.clone())).unwrap();
    let pairs: Vec<_> = (0..400).map(|_| pair(&around)).collect();
    let joins = join(&store, &pairs);
    let found = histories(&store, &pairs);
    assert_eq!(found.iter().map(BTreeSet::len).collect::<Vec<_>>(), [400]);

    // One in the middle is taken back: two rows of 200 are left.
    let (subject, entry) = joins[199].clone();
    let parted = Draft::new(subject, Body::Retracted(Retracted { entry }));
    now(store.save(vec![parted], Vec::new())).unwrap();
    let found = histories(&store, &pairs);
    assert_eq!(found.iter().map(BTreeSet::len).collect::<Vec<_>>(), [200, 200]);
    assert!(found[0].is_disjoint(&found[1]));
}
