use std::collections::BTreeSet;

use shared::log::fold::{MaterialState, PairHistory, PairHistoryLoader, ShopState};
use shared::log::{Erasures, ReceivedEntry, SubjectKind, about};
use uuid::Uuid;

use super::*;
use crate::sample::{Pen, blob_of, unsent};

/// Entries of every kind that concerns one stay, with what they erase blank, and its subjects.
fn stay() -> (Stay, Vec<ReceivedEntry>) {
    let mut pen = Pen::new(1);
    let mut subject = |kind| Subject::new(kind, pen.subject());
    let stay = Stay {
        shop: subject(SubjectKind::Shop),
        customer: subject(SubjectKind::Customer),
        pair: subject(SubjectKind::Pair),
        ticket: subject(SubjectKind::Ticket),
        job: subject(SubjectKind::Job),
        earlier: subject(SubjectKind::Job).id,
        person: PersonId(Uuid::from_u128(9)),
        secret: "ab".repeat(16),
        full: blob_of(b"picture", "image/jpeg"),
        thumb: blob_of(b"small", "image/jpeg"),
        voice: blob_of(b"spoken", "audio/webm"),
    };
    let mut entries = Vec::new();
    every_kind(&stay, |subject, body, over| {
        let mut entry = pen.entry(subject.kind.clone(), subject.id, &body);
        entry.over = over;
        let id = entry.id;
        entries.push(entry);
        id
    });
    let mut erasures = Erasures::default();
    for entry in &entries {
        erasures.note(entry);
    }
    for entry in &mut entries {
        erasures.blank(entry);
    }
    (stay, unsent(&entries))
}

/// What these entries say together: the history of the pair, the shop, and the material.
fn state(stay: &Stay, entries: &[ReceivedEntry]) -> (PairHistory, ShopState, MaterialState) {
    let mut loader = PairHistoryLoader::pair(stay.pair.id);
    loop {
        let wanted = loader.wanted();
        if wanted.is_empty() {
            break;
        }
        for id in wanted {
            let of_it = entries.iter().filter(|one| about(&one.entry).contains(&id));
            loader.give(id, of_it.cloned());
        }
    }
    let of = |subject: Subject| entries.iter().filter(move |one| one.entry.subject == subject);
    let (shop, material) = (
        ShopState::of(of(stay.shop.clone())),
        MaterialState::of(of(stay.material())),
    );
    (loader.finish(), shop, material)
}

#[test]
fn every_kind_that_this_version_reads_is_written() {
    let (_, entries) = stay();
    let mut written: BTreeSet<_> = entries.iter().map(|one| one.entry.kind.as_str()).collect();
    written.extend(["erased", "same_as"]);
    assert_eq!(written, Body::KINDS.iter().copied().collect());
}

/// A kind that no fold reads would be stored, sent and never shown.
#[test]
fn of_every_kind_some_entry_changes_what_all_say_together() {
    let (stay, entries) = stay();
    let whole = state(&stay, &entries);
    let mut unread: BTreeSet<_> = entries.iter().map(|one| one.entry.kind.as_str()).collect();
    for without in &entries {
        let others: Vec<_> = entries
            .iter()
            .filter(|one| one.entry.id != without.entry.id)
            .cloned()
            .collect();
        if state(&stay, &others) != whole {
            unread.remove(without.entry.kind.as_str());
        }
    }
    assert_eq!(unread, BTreeSet::new(), "no fold reads these kinds");
}
