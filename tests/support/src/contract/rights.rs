//! What the rules on the rights of devices ask.

use server_core::store::{
    CountedErasure, ErasedThing, ErasureRequest, LogTx, NamedEntry, RightsTx, Store, StoreTx, StoredEntry,
    TxMode,
};
use shared::log::body::{ErasureAsked, Retracted};
use shared::log::{Body, Entry, EntryId, SubjectId, SubjectKind, UnixMs};
use uuid::Uuid;

use super::log::{put, put_at, read};
use crate::sample::Pen;

fn retraction(pen: &mut Pen, subject: SubjectId, entry: EntryId) -> Entry {
    pen.entry(SubjectKind::Pair, subject, &Body::Retracted(Retracted { entry }))
}

pub async fn what_an_entry_names_is_found_without_its_body<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let subject = pen.subject();
    let note = pen.raw(SubjectKind::from("odd_kind"), subject, "note", "{}");
    let hides = retraction(&mut pen, subject, note.id);
    // Its body names an entry, but its kind is another one.
    let similar = pen.raw(SubjectKind::Pair, subject, "note", &hides.body);
    let unreadable = pen.raw(SubjectKind::Pair, subject, "retracted", "not json");
    let entries = [note, hides, similar, unreadable];
    put(&store, &entries).await;
    let unknown = EntryId(Uuid::from_u128(404));
    let ids: Vec<_> = entries.iter().map(|entry| entry.id).chain([unknown]).collect();
    let named = read(&store).await.named_entries(&ids).await.unwrap();
    assert_eq!(named.len(), entries.len());
    let retracts = [None, Some(ids[0]), None, None];
    for (entry, retracts) in entries.iter().zip(retracts) {
        let expected = NamedEntry {
            subject: entry.subject.clone(),
            kind: entry.kind.clone(),
            retracts,
        };
        assert_eq!(named[&entry.id], expected);
        assert_eq!(NamedEntry::of(entry), expected);
    }
}

pub async fn retractions_are_those_of_their_subjects<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let [one, two, three] = [(); 3].map(|()| pen.subject());
    let note = pen.raw(SubjectKind::Pair, one, "note", "{}");
    let mut hides = |subject| retraction(&mut pen, subject, note.id);
    let hiding = [hides(one), hides(two), hides(three), hides(one)];
    let all: Vec<_> = [note.clone()].into_iter().chain(hiding.clone()).collect();
    put(&store, &all).await;
    let found = read(&store).await.retractions(&[three, one]).await.unwrap();
    let found: Vec<_> = found.into_iter().map(|held| held.entry).collect();
    let [first, _, third, last] = hiding;
    assert_eq!(found, [first, third, last]);
}

pub async fn requests_come_in_the_order_of_their_arrival<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let subject = pen.subject();
    let hash = "ab".repeat(32);
    let mut ask = |blob: Option<&String>| {
        let blob = blob.cloned();
        let asked = Body::ErasureAsked(ErasureAsked { blob });
        pen.entry(SubjectKind::Customer, subject, &asked)
    };
    let [late, early, of_blob, blank] = [None, None, Some(&hash), None].map(&mut ask);
    let unreadable = pen.raw(SubjectKind::Customer, subject, "erasure_asked", "not json");
    let late = put_at(&store, &[late], UnixMs(70)).await.remove(0);
    let early = put_at(&store, &[early, unreadable], UnixMs(50)).await.remove(0);
    let of_blob = put_at(&store, &[of_blob], UnixMs(50)).await.remove(0);
    let blank = put_at(&store, &[blank], UnixMs(50)).await.remove(0);
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.blank(&blank).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = read(&store).await;
    assert!(tx.erasure_requests(UnixMs(49)).await.unwrap().is_empty());
    let request = |of: &StoredEntry, blob: Option<&String>| ErasureRequest {
        id: of.held.entry.id,
        subject: of.subject().clone(),
        blob: blob.cloned(),
    };
    let first = [request(&early, None), request(&of_blob, Some(&hash))];
    assert_eq!(tx.erasure_requests(UnixMs(69)).await.unwrap(), first);
    let all = [&first[..], &[request(&late, None)]].concat();
    assert_eq!(tx.erasure_requests(UnixMs(70)).await.unwrap(), all);
}

pub async fn counted_erasures_are_replaced<S: Store>(store: S) {
    assert!(read(&store).await.counted_erasures().await.unwrap().is_empty());
    let counted = [
        (5, ErasedThing::Blob),
        (5, ErasedThing::Blob),
        (7, ErasedThing::Subject),
        (8, ErasedThing::Mention),
    ]
    .map(|(at, what)| CountedErasure { at: UnixMs(at), what });
    for some in [&counted[..2], &counted[..], &[], &counted[2..]] {
        let mut tx = store.begin(TxMode::Write).await.unwrap();
        tx.set_counted_erasures(some).await.unwrap();
        tx.commit().await.unwrap();
        let mut found = read(&store).await.counted_erasures().await.unwrap();
        found.sort_by_key(|erasure| erasure.at);
        assert_eq!(found, some);
    }
}
