//! What must hold of blank entries, and of what is left of them, when everything has calmed down.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use shared::log::body::MentionErased;
use shared::log::{Body, Entry, EntryId, Erasures, ReceivedEntry, left_by_all};

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
/// every phone must show.
pub(crate) fn as_left(log: &ServerLog) -> BTreeMap<EntryId, ReceivedEntry> {
    let mut entries = log.entries.clone();
    let blank = entries.values().filter(|held| held.entry.is_blank());
    let blank: BTreeSet<EntryId> = blank.map(|held| held.entry.id).collect();
    // What is left of an erasing entry says what is left of another one.
    for _ in &blank {
        if !put_in_place(&mut entries, &blank, |kind| kind == "mention_erased") {
            break;
        }
    }
    put_in_place(&mut entries, &blank, |kind| {
        !["erased", "mention_erased"].contains(&kind)
    });
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

/// Gives those of the blank entries that are of these kinds what all that erase mentions in them have left. Returns
/// whether that has changed any.
fn put_in_place(
    entries: &mut BTreeMap<EntryId, ReceivedEntry>,
    blank: &BTreeSet<EntryId>,
    of_kind: impl Fn(&str) -> bool,
) -> bool {
    let now: &BTreeMap<EntryId, ReceivedEntry> = entries;
    let mut order: Vec<_> = now.values().collect();
    order.sort_by_key(|held| held.position());
    let mut left: BTreeMap<EntryId, Vec<Value>> = BTreeMap::new();
    for (id, content) in order.into_iter().filter_map(|by| left_by(by, now)) {
        left.entry(id).or_default().push(content);
    }
    let mut any = false;
    for (id, contents) in left {
        let Some(held) = entries.get_mut(&id) else {
            continue;
        };
        let kind = &held.entry.kind;
        if !blank.contains(&id) || !of_kind(kind) {
            continue;
        }
        let remains = left_by_all(kind, &contents);
        let readable = remains.filter(|content| Body::of_value(kind, content) != Body::Unknown);
        let body = readable.map_or_else(String::new, |content| content.to_string());
        any |= body != held.entry.body;
        held.entry.body = body;
    }
    any
}
