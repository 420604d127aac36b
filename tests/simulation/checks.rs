//! What must hold when everything has calmed down.

use std::collections::{BTreeMap, BTreeSet};

use app_core::store::memory::now;
use app_core::store::{Record, tables};
use shared::log::fold::{Card, PairHistory, PairHistoryLoader, Summary};
use shared::log::{Body, Entry, EntryId, Erasures, ReceivedEntry, SubjectId, SubjectKind, about};
use shared::sync::Code;

use crate::blanked::{self, as_left};
use crate::forgotten;
use crate::kept_aside::kept_aside;
use crate::lies::no_picture;
use crate::phone::Phone;
use crate::seen::Erasable;
use crate::server_log::ServerLog;
use crate::town::Town;

pub(crate) fn all(town: &Town) {
    let log = ServerLog::read(&town.shop);
    nothing_saved_is_missing(town, &log);
    no_two_share_a_stamp_or_a_number(town, &log.entries);
    every_photograph_is_there(town, &log);
    let lives = lives(&as_left(&log));
    for phone in &town.phones {
        the_phone_holds_what_the_server_holds(phone, &log.entries);
        the_phone_shows_what_the_entries_say(phone, &lives);
        the_phone_knows_the_shop_and_its_role(town, phone, &log);
        nothing_waits(town, phone, &log.erasures());
    }
    let waits = town.former.as_ref().is_some_and(|phone| phone.waits());
    assert!(!waits, "an older app still waits to offer something");
    cards_follow_the_log(town, &lives);
    forgotten::all(town, &log);
    blanked::all(town, &log);
}

fn nothing_saved_is_missing(town: &Town, log: &ServerLog) {
    let erasures = log.erasures();
    for (id, saved) in town.seen.entries.borrow().iter() {
        let Some(found) = log.entries.get(id) else {
            assert!(
                may_be_missing(town, log, saved),
                "shown as saved and lost: {saved:?}; {}",
                whereabouts(town, saved)
            );
            continue;
        };
        assert!(found.entry.same_envelope(saved), "{saved:?} has become {found:?}");
        assert!(
            found.entry.body == saved.body || (found.entry.is_blank() && erasures.covers(saved)),
            "{saved:?} has become {found:?}"
        );
    }
}

/// Whether it is right that the server does not have this entry.
fn may_be_missing(town: &Town, log: &ServerLog, saved: &Entry) -> bool {
    let seen = &town.seen;
    // An older app offers it blank before its erasure, and not again once it was refused. It does not ask for an erasure
    // that is beyond the day's number.
    let former = town.former.as_ref().map(|phone| phone.device);
    let forgotten = seen.times_erased(&Erasable::Subject(saved.subject.id)) > 0;
    let is_of_former = forgotten && former == Some(saved.device);
    // A repairer has dropped it, or what the server kept of it was erased before a repairer saw it.
    let given_up = seen.given_up.borrow().contains(&saved.id);
    let kept = || {
        town.phones
            .iter()
            .any(|phone| left_out(phone).contains(&saved.id))
    };
    let erased = log.erasures().covers(saved) && kept();
    let replaced = saved.kind == "erased" && forgotten::is_done_otherwise(town, log, saved);
    is_of_former || given_up || erased || replaced || town.wiped.has_lost(saved.id)
}

/// What the server has kept aside from this phone, or did not take because it was erased.
fn left_out(phone: &Phone) -> BTreeSet<EntryId> {
    let not_taken = phone.not_taken();
    let left_out = not_taken.iter().filter(|record| is_left_out(record));
    left_out.map(|record| record.received.entry.id).collect()
}

fn is_left_out(record: &Record) -> bool {
    let code = record.refused.as_ref().map(|problem| &problem.code);
    matches!(
        code,
        Some(Code::KeptForRepairer | Code::DroppedByRepairer | Code::Erased)
    )
}

/// What the phones know of an entry that the server lacks, and whether the server keeps it aside.
fn whereabouts(town: &Town, lost: &Entry) -> String {
    let on = |phone: &Phone| {
        let rows = phone.memory.rows(tables::TAIL);
        let row = rows.into_iter().find(|row| row.key == lost.id.to_string());
        let archived = phone.holdings().confirmed.contains(&lost.id);
        let progress = now(phone.store.progress());
        format!(
            "\n{:?} has {:?}, confirmed: {archived}, {progress:?}",
            phone.store.device(),
            row.map(|row| row.value)
        )
    };
    let kept = kept_aside(&town.shop);
    let is_kept = kept.iter().any(|one| one.entry.entry.id == lost.id);
    let phones: String = town.phones.iter().map(on).collect();
    format!("kept aside: {is_kept}{phones}")
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
    let noted = now(town.shop.missing_blobs(&[hash.to_owned()])).map(|missing| missing.is_empty());
    let phones: String = town.phones.iter().map(on).collect();
    format!("the server believes to have it: {noted:?}{phones}")
}

fn every_photograph_is_there(town: &Town, log: &ServerLog) {
    let folder = town.household.photos.snapshot();
    let erasures = log.erasures();
    let may_be_gone = |hash: &str| {
        erasures.covers_blob(hash)
            || town.wiped.has_lost_blob(hash)
            || town.seen.goes_with_subject(&erasures, hash)
    };
    let nowhere = no_picture().sha256;
    for (hash, bytes) in town.seen.blobs.borrow().iter() {
        match folder.get(&hash.parse().expect("a hash")) {
            Some(stored) => assert_eq!(stored, bytes),
            None => assert!(
                may_be_gone(hash),
                "a photograph is lost: {hash}; {}",
                notes_on(town, hash)
            ),
        }
    }
    for (hash, bytes) in &folder {
        assert_eq!(hash.to_string(), support::sample::sha256(bytes));
    }
    for one in log.entries.values() {
        let Body::Photo(photo) = Body::of(&one.entry) else {
            continue;
        };
        let hash = &photo.full.sha256;
        let there = folder.contains_key(&hash.parse().expect("a hash"));
        assert!(
            there || may_be_gone(hash) || *hash == nowhere,
            "an entry has no bytes anywhere: {one:?}"
        );
    }
}

/// Besides that, a phone keeps what the server has not taken.
fn the_phone_holds_what_the_server_holds(phone: &Phone, held: &BTreeMap<EntryId, ReceivedEntry>) {
    let subjects: BTreeSet<_> = held.values().map(|one| one.entry.subject.id).collect();
    let mut on_phone = BTreeMap::new();
    for subject in subjects {
        let about = now(phone.store.entries_about(subject)).expect("the phone reads");
        on_phone.extend(about.into_iter().map(|held| (held.entry.id, held)));
    }
    let not_taken = phone.not_taken();
    for record in &not_taken {
        let id = record.received.entry.id;
        assert!(
            !held.contains_key(&id),
            "on the server, and shown as refused: {record:?}"
        );
        on_phone.remove(&id);
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
    let read = not_taken.iter().filter(|record| !record.left_out).count();
    assert_eq!(
        counts.entries,
        (held.len() + read) as u64,
        "the phone counts what it holds"
    );
}

/// Every pair's life, folded afresh from all entries. A pair is also what others only name: a job as the pair it was opened
/// for, or a pair as the same as it.
fn lives(held: &BTreeMap<EntryId, ReceivedEntry>) -> BTreeMap<SubjectId, PairHistory> {
    let mut by_subject: BTreeMap<SubjectId, Vec<&ReceivedEntry>> = BTreeMap::new();
    let mut pairs = BTreeSet::new();
    for one in held.values() {
        for subject in about(&one.entry) {
            by_subject.entry(subject).or_default().push(one);
        }
        let own = Some(&one.entry.subject).filter(|subject| subject.kind == SubjectKind::Pair);
        pairs.extend(own.map(|subject| subject.id));
        match Body::of(&one.entry) {
            Body::Opened(opened) => pairs.extend(opened.pair),
            Body::SameAs(same) => pairs.extend(own.map(|_| same.other)),
            _ => {}
        }
    }
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
    assert_eq!(
        in_shop,
        open,
        "{:?} shows other pairs in the shop",
        phone.store.device()
    );
    for summary in fresh.values().filter(|one| !one.customer.is_empty()) {
        let found = now(phone.store.find(&summary.customer)).expect("the phone searches");
        assert!(found.contains(&summary.id), "a search by name misses a pair");
    }
}

/// It folds the shop's entries as anybody would, and does not offer what its role may not write.
fn the_phone_knows_the_shop_and_its_role(town: &Town, phone: &Phone, log: &ServerLog) {
    let membership = phone.membership();
    let shop = SubjectId(membership.shop.expect("everybody has joined"));
    assert_eq!(
        now(phone.store.shop_state()).expect("the phone reads"),
        log.shop_state(shop)
    );
    let devices = now(town.shop.devices()).expect("the server answers");
    let own = devices.iter().find(|device| device.id == phone.store.device());
    assert_eq!(own.map(|device| &device.role), Some(&membership.role));
}

/// Nothing waits, and nothing was refused but what a repairer has dropped or what was erased meanwhile.
fn nothing_waits(town: &Town, phone: &Phone, erasures: &Erasures) {
    let counts = now(phone.store.counts()).expect("the phone reads");
    let refused = now(phone.store.refused()).expect("the phone reads");
    for record in &refused {
        let entry = &record.received.entry;
        let is_decided = town.seen.given_up.borrow().contains(&entry.id) || erasures.covers(entry);
        assert!(is_left_out(record) && is_decided, "refused: {record:?}");
    }
    assert_eq!(
        (counts.unsent, counts.refused),
        (0, refused.len() as u64),
        "nothing waits, and what was refused is shown"
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
