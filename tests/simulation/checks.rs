//! What must hold when everything has calmed down.

use std::collections::{BTreeMap, BTreeSet};

use app_core::store::kv::RowValue;
use app_core::store::memory::now;
use app_core::store::tables;
use sha2::{Digest as _, Sha256};
use shared::log::fold::{Card, PairHistory, PairHistoryLoader, Summary};
use shared::log::{Body, Entry, EntryId, ReceivedEntry, SubjectId, SubjectKind, about};

use crate::phone::Phone;
use crate::town::Town;

pub(crate) fn all(town: &Town) {
    let held = on_the_server(town);
    nothing_saved_is_missing(town, &held);
    no_two_share_a_stamp_or_a_number(town, &held);
    every_photograph_is_there(town, &held);
    let lives = lives(&held);
    for phone in &town.phones {
        the_phone_holds_what_the_server_holds(phone, &held);
        the_phone_shows_what_the_entries_say(phone, &lives);
        nothing_waits(phone);
    }
    let waits = town.former.as_ref().is_some_and(|phone| phone.waits());
    assert!(!waits, "an older app still waits to offer something");
    cards_follow_the_log(town, &lives);
    the_erased_are_gone(town, &held);
}

/// Everything, as a device that starts from zero would read it.
fn on_the_server(town: &Town) -> BTreeMap<EntryId, ReceivedEntry> {
    let mut held = BTreeMap::new();
    let mut cursor = None;
    loop {
        let answer = now(town.shop.pull(cursor, None)).expect("the server answers");
        held.extend(answer.entries.into_iter().map(|held| (held.entry.id, held)));
        if !answer.more {
            return held;
        }
        cursor = Some(answer.cursor);
    }
}

fn nothing_saved_is_missing(town: &Town, held: &BTreeMap<EntryId, ReceivedEntry>) {
    let erasing = town.seen.erasing.borrow();
    for (id, saved) in town.seen.entries.borrow().iter() {
        let forgotten = erasing.contains(&saved.subject.id);
        let former = town.former.as_ref().map(|phone| phone.device);
        if forgotten && former == Some(saved.device) && !held.contains_key(id) {
            // An older app offers it blank before its erasure, and not again once it was refused.
            continue;
        }
        let found = held
            .get(id)
            .unwrap_or_else(|| panic!("shown as saved and lost: {saved:?}; {}", whereabouts(town, saved)));
        assert!(found.entry.same_envelope(saved), "{saved:?} has become {found:?}");
        assert!(
            (forgotten && found.entry.is_blank()) || found.entry.body == saved.body,
            "{saved:?} has become {found:?}"
        );
    }
}

/// What the phones know of an entry that the server lacks.
fn whereabouts(town: &Town, lost: &Entry) -> String {
    let on = |phone: &Phone| {
        let about = now(phone.store.entries_about(lost.subject.id)).unwrap_or_default();
        let held = about.into_iter().find(|held| held.entry.id == lost.id);
        let progress = now(phone.store.progress());
        format!(
            "\n{:?} has {:?}, {progress:?}",
            phone.store.device(),
            held.map(|held| held.received)
        )
    };
    town.phones.iter().map(on).collect()
}

fn no_two_share_a_stamp_or_a_number(town: &Town, held: &BTreeMap<EntryId, ReceivedEntry>) {
    let (mut stamps, mut numbers) = (BTreeSet::new(), BTreeSet::new());
    for one in held.values() {
        let entry = &one.entry;
        assert!(
            stamps.insert((entry.device, entry.stamp)),
            "two entries of one device under one stamp"
        );
        assert!(
            numbers.insert((entry.device, entry.device_seq)),
            "two entries of one device under one number"
        );
    }
    // A server set back has forgotten which letters it gave away; everything else keeps tags apart.
    if !town.set_back {
        let tags = town.seen.tags.borrow();
        let letters = |tag: &&String| tag.contains(char::is_alphabetic);
        let lettered: Vec<_> = tags.iter().filter(letters).collect();
        assert_eq!(
            lettered.iter().collect::<BTreeSet<_>>().len(),
            lettered.len(),
            "one tag number on two pairs: {tags:?}"
        );
    }
}

/// What the phones note of a photograph that the server lacks.
fn notes_on(town: &Town, hash: &str) -> String {
    let on = |phone: &Phone| {
        let rows = phone.memory.rows(tables::BLOB_INFO);
        format!(
            "\n{:?} notes {:?}",
            phone.store.device(),
            rows.iter().find(|row| row.key == hash)
        )
    };
    let wanted = now(town.shop.pull(None, None)).map(|answer| answer.wanted.contains(&hash.to_owned()));
    let noted = now(town.shop.missing_blobs(&[hash.to_owned()])).map(|missing| missing.is_empty());
    let phones: String = town.phones.iter().map(on).collect();
    format!("the server wants it: {wanted:?}, believes to have it: {noted:?}{phones}")
}

fn every_photograph_is_there(town: &Town, held: &BTreeMap<EntryId, ReceivedEntry>) {
    let folder = town.household.photos.snapshot();
    for (hash, bytes) in town.seen.blobs.borrow().iter() {
        let stored = folder
            .get(&hash.parse().expect("a hash"))
            .unwrap_or_else(|| panic!("a photograph is lost: {hash}; {}", notes_on(town, hash)));
        assert_eq!(stored, bytes);
    }
    for (hash, bytes) in &folder {
        let digest: [u8; 32] = Sha256::digest(bytes).into();
        assert_eq!(
            hash.to_string(),
            digest
                .iter()
                .map(|byte| format!("{byte:02x}"))
                .collect::<String>()
        );
    }
    let photos = held
        .values()
        .filter(|one| matches!(Body::of(&one.entry), Body::Photo(_)));
    for one in photos {
        let Body::Photo(photo) = Body::of(&one.entry) else {
            continue;
        };
        let there = folder.contains_key(&photo.full.sha256.parse().expect("a hash"));
        assert!(there, "an entry has no bytes anywhere");
    }
}

fn the_phone_holds_what_the_server_holds(phone: &Phone, held: &BTreeMap<EntryId, ReceivedEntry>) {
    let subjects: BTreeSet<_> = held.values().map(|one| one.entry.subject.id).collect();
    let mut on_phone = BTreeMap::new();
    for subject in subjects {
        let about = now(phone.store.entries_about(subject)).expect("the phone reads");
        on_phone.extend(about.into_iter().map(|held| (held.entry.id, held)));
    }
    for (id, one) in held {
        assert_eq!(on_phone.get(id), Some(one), "on the phone, and on the server");
    }
    assert_eq!(
        on_phone.len(),
        held.len(),
        "the phone holds entries that the server lacks"
    );
    let counts = now(phone.store.counts()).expect("the phone reads");
    assert_eq!(
        counts.entries,
        held.len() as u64,
        "the phone counts what it holds"
    );
}

/// Every pair's life, folded afresh from all entries.
fn lives(held: &BTreeMap<EntryId, ReceivedEntry>) -> BTreeMap<SubjectId, PairHistory> {
    let mut by_subject: BTreeMap<SubjectId, Vec<&ReceivedEntry>> = BTreeMap::new();
    for one in held.values() {
        for subject in about(&one.entry) {
            by_subject.entry(subject).or_default().push(one);
        }
    }
    let pairs: BTreeSet<_> = held
        .values()
        .filter(|one| one.entry.subject.kind == SubjectKind::Pair)
        .map(|one| one.entry.subject.id)
        .collect();
    let gathered = pairs.into_iter().map(|pair| {
        let mut gather = PairHistoryLoader::pair(pair);
        loop {
            let wanted = gather.wanted();
            if wanted.is_empty() {
                break (pair, gather.finish());
            }
            for id in wanted {
                gather.give(id, by_subject.get(&id).into_iter().flatten().copied().cloned());
            }
        }
    });
    gathered.collect()
}

fn the_phone_shows_what_the_entries_say(phone: &Phone, lives: &BTreeMap<SubjectId, PairHistory>) {
    for (pair, life) in lives {
        assert_eq!(
            &now(phone.store.pair_history(*pair)).expect("the phone reads"),
            life
        );
    }
    let fresh: BTreeMap<_, _> = lives.values().map(|life| (life.id, Summary::of(life))).collect();
    let ids: Vec<_> = fresh.keys().copied().collect();
    let stored = now(phone.store.summaries(&ids)).expect("the phone reads");
    let stored: BTreeMap<_, _> = stored.into_iter().map(|summary| (summary.id, summary)).collect();
    assert_eq!(stored, fresh, "stored summaries are those of a fresh fold");
    let in_shop: BTreeSet<_> = now(phone.store.in_shop())
        .expect("the phone reads")
        .iter()
        .map(|one| one.id)
        .collect();
    let open: BTreeSet<_> = fresh
        .values()
        .filter(|one| one.open())
        .map(|one| one.id)
        .collect();
    assert_eq!(in_shop, open);
    for summary in fresh.values().filter(|one| !one.customer.is_empty()) {
        let found = now(phone.store.find(&summary.customer)).expect("the phone searches");
        assert!(found.contains(&summary.id), "a search by name misses a pair");
    }
}

fn nothing_waits(phone: &Phone) {
    let counts = now(phone.store.counts()).expect("the phone reads");
    assert_eq!(
        (counts.unsent, counts.refused),
        (0, 0),
        "nothing waits and nothing was refused"
    );
    assert_eq!(
        (counts.unsent_blobs, counts.parked_blobs),
        (0, 0),
        "no photograph waits or was refused"
    );
}

/// The server's card for a link is the card of the log, and never shows a withdrawn section.
fn cards_follow_the_log(town: &Town, lives: &BTreeMap<SubjectId, PairHistory>) {
    for life in lives.values() {
        for link in &life.pair.links {
            let card = now(town.shop.card(&link.body.secret)).expect("the link is known");
            assert_eq!(card, Card::of(life));
        }
    }
}

fn the_erased_are_gone(town: &Town, held: &BTreeMap<EntryId, ReceivedEntry>) {
    let erased = town.seen.erased.borrow();
    let names: Vec<String> = town
        .seen
        .entries
        .borrow()
        .values()
        .filter(|entry| erased.contains(&entry.subject.id))
        .filter_map(|entry| match Body::of(entry) {
            Body::Detail(detail) => detail.value.as_str().map(str::to_owned),
            _ => None,
        })
        .collect();
    let server = serde_json::to_string(&held.values().collect::<Vec<_>>()).expect("entries are JSON");
    for name in &names {
        assert!(!server.contains(name), "{name} was erased and is on the server");
    }
    for phone in &town.phones {
        for row in tables::ALL.iter().flat_map(|table| phone.memory.rows(*table)) {
            let RowValue::Text(text) = &row.value else {
                continue;
            };
            let text = text.to_lowercase();
            for name in &names {
                assert!(
                    !text.contains(&name.to_lowercase()),
                    "{name} was erased and is in {text}"
                );
            }
        }
    }
}
