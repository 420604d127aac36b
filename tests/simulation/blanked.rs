//! What must hold of blank entries, and of what is left of them, when everything has calmed down.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use shared::log::body::MentionErased;
use shared::log::{Body, Entry, EntryId, Erasures, ReceivedEntry};

use crate::blobs_of::blobs_of;
use crate::phone::Phone;
use crate::seen::{Erasable, Seen};
use crate::server_log::ServerLog;
use crate::town::Town;

pub(crate) fn all(town: &Town, log: &ServerLog) {
    let erasures = log.erasures();
    only_what_is_erased_is_blank(log, &erasures);
    for phone in &town.phones {
        nothing_erased_waits(phone, &erasures);
    }
    somebody_has_erased_it(town, &erasures);
    blobs_of_erased_subjects_are_gone(town, &erasures);
    if let Some(former) = &town.former {
        former.has_lost_nothing(&town.seen, &erasures);
    }
}

fn only_what_is_erased_is_blank(log: &ServerLog, erasures: &Erasures) {
    for held in log.entries.values() {
        assert_eq!(
            held.entry.is_blank(),
            erasures.covers(&held.entry),
            "blank and not erased, or erased and not blank: {held:?}"
        );
    }
}

/// What the server has not taken, and the phone keeps, is blank too.
fn nothing_erased_waits(phone: &Phone, erasures: &Erasures) {
    for record in phone.not_taken() {
        let entry = &record.received.entry;
        assert!(
            !erasures.covers(entry) || entry.is_blank(),
            "erased and still on a phone: {record:?}"
        );
    }
}

/// What a device could not erase, because its role does not allow it, is not erased.
fn somebody_has_erased_it(town: &Town, erasures: &Erasures) {
    for (subject, entry) in &erasures.mentions {
        let what = Erasable::Mention(*subject, *entry);
        assert!(town.seen.times_erased(&what) > 0, "nobody erased {what:?}");
    }
}

/// The bytes that only entries about an erased subject name are nowhere. What an entry named that was blanked before,
/// for a mention, is known only if it was left. A server that was set back, and a phone that was wiped, may have
/// bytes of entries that they have lost.
fn blobs_of_erased_subjects_are_gone(town: &Town, erasures: &Erasures) {
    let folder = town.household.photos.snapshot();
    let seen = town.seen.entries.borrow();
    let is_gone = |entry: &Entry| erasures.covers_kind(&entry.subject, &entry.kind);
    for entry in seen.values().filter(|entry| is_gone(entry)) {
        let mut hashes = blobs_of(entry);
        hashes.retain(|hash| is_left(&town.seen, entry, hash));
        for hash in hashes {
            let there = folder.contains_key(&hash.parse().expect("a hash"));
            assert!(town.set_back || !there, "{hash} of {entry:?} is on the server");
            let holds = |phone: &&Phone| town.wiped.is_empty() && phone.blobs().contains(&hash);
            let holder = town.phones.iter().find(holds).map(|phone| phone.store.device());
            assert!(holder.is_none(), "{hash} of {entry:?} is on {holder:?}");
        }
    }
}

/// Whether every entry that erases a mention in this one names the bytes again.
fn is_left(seen: &Seen, entry: &Entry, hash: &str) -> bool {
    let what = Erasable::Mention(entry.subject.id, entry.id);
    let entries = seen.entries.borrow();
    let by: Vec<_> = entries
        .values()
        .filter(|by| Erasable::of(by).as_ref() == Some(&what))
        .collect();
    let names = |by: &&Entry| blobs_of(by).iter().any(|one| one == hash) && is_left(seen, by, hash);
    u32::try_from(by.len()) == Ok(seen.times_erased(&what)) && by.iter().all(names)
}

/// The entries as they read once what is left of those that were blanked for a mention stands in their place: what
/// every phone must show. The first erasing entry that has left anything decides.
pub(crate) fn as_left(log: &ServerLog) -> BTreeMap<EntryId, ReceivedEntry> {
    let mut entries = log.entries.clone();
    // What is left of an erasing entry says what is left of another one.
    while put_in_place(&mut entries, |kind| kind == "mention_erased") {}
    put_in_place(&mut entries, |kind| !["erased", "mention_erased"].contains(&kind));
    entries
}

/// What an entry has left of another one; if that one is missing and itself erased a mention, what is left of that.
fn left_by(by: &ReceivedEntry, entries: &BTreeMap<EntryId, ReceivedEntry>) -> Option<(EntryId, Value)> {
    let mut body = Body::of(&by.entry);
    loop {
        let Body::MentionErased(MentionErased { entry, left }) = body else {
            return None;
        };
        let left = left?;
        let held = entries.get(&entry);
        if held.is_some_and(|held| held.entry.subject.id == by.entry.subject.id) {
            return Some((entry, left));
        }
        body = Body::of_value("mention_erased", &left);
    }
}

fn put_in_place(entries: &mut BTreeMap<EntryId, ReceivedEntry>, of_kind: impl Fn(&str) -> bool) -> bool {
    let mut order: Vec<_> = entries.values().collect();
    order.sort_by_key(|held| held.position());
    let mut placed = BTreeSet::new();
    let mut bodies = Vec::new();
    for by in order {
        let Some((id, left)) = left_by(by, entries) else {
            continue;
        };
        let blank = entries
            .get(&id)
            .map(|held| &held.entry)
            .filter(|entry| entry.is_blank() && of_kind(&entry.kind));
        let Some(blank) = blank.filter(|_| placed.insert(id)) else {
            continue;
        };
        if Body::of_value(&blank.kind, &left) != Body::Unknown {
            bodies.push((id, left.to_string()));
        }
    }
    let any = !bodies.is_empty();
    for (id, body) in bodies {
        if let Some(held) = entries.get_mut(&id) {
            held.entry.body = body;
        }
    }
    any
}
