//! What must hold of erasures when everything has calmed down.

use app_core::store::kv::RowValue;
use app_core::store::memory::now;
use app_core::store::tables;
use shared::log::{Entry, Erasures, ReceivedEntry};
use shared::sync::messages::ERASURE_WAITS_MS;

use crate::phone::Phone;
use crate::remarks::unique_words;
use crate::seen::Erasable;
use crate::server_log::ServerLog;
use crate::town::Town;

pub(crate) fn all(town: &Town, log: &ServerLog) {
    let erasures = log.erasures();
    assert!(
        log.has_erased_what_was_asked_for(&town.seen),
        "asked for, not called off, and not erased: {:?}",
        log.requests()
    );
    what_was_called_off_is_not_erased(town, log, &erasures);
    erased_names_are_gone(town, log, &erasures);
    erased_photographs_are_gone(town, &erasures);
}

/// Whether an erasure that the server does not have is done all the same, because the phone has asked for it, or was called
/// off. The request can be lost too.
pub(crate) fn is_done_otherwise(town: &Town, log: &ServerLog, erasure: &Entry) -> bool {
    let Some(what) = Erasable::of(erasure) else {
        return false;
    };
    let is_lost = |entry: &Entry| Erasable::of(entry).as_ref() == Some(&what);
    what.is_gone(&log.erasures()) || is_called_off(log, &what) || town.wiped.lost().any(is_lost)
}

/// Whether somebody has asked to erase this, and no such request stands.
fn is_called_off(log: &ServerLog, what: &Erasable) -> bool {
    let mut requests = log.requests();
    requests.retain(|(asked, _)| asked == what);
    !requests.is_empty() && requests.iter().all(|(_, stands)| !stands)
}

/// As long as only one person wished it, and in time.
fn what_was_called_off_is_not_erased(town: &Town, log: &ServerLog, erasures: &Erasures) {
    if town.stormed >= ERASURE_WAITS_MS {
        return;
    }
    for (what, _) in log.requests() {
        if town.seen.may_be_called_off(&what) && is_called_off(log, &what) {
            assert!(!what.is_gone(erasures), "called off and erased: {what:?}");
        }
    }
}

fn erased_names_are_gone(town: &Town, log: &ServerLog, erasures: &Erasures) {
    let seen = town.seen.entries.borrow();
    let erased = seen.values().filter(|entry| erasures.covers(entry));
    let names: Vec<String> = erased.flat_map(unique_words).collect();
    let held: Vec<&ReceivedEntry> = log.entries.values().collect();
    let server = serde_json::to_string(&held).expect("entries are JSON");
    let kept = now(town.shop.kept_aside()).expect("the server answers");
    let kept = serde_json::to_string(&kept).expect("entries are JSON");
    for name in &names {
        assert!(!server.contains(name), "{name} was erased and is on the server");
        assert!(!kept.contains(name), "{name} was erased and is kept aside");
    }
    for phone in &town.phones {
        no_row_names(phone, &names);
    }
}

fn no_row_names(phone: &Phone, names: &[String]) {
    for row in tables::ALL.iter().flat_map(|table| phone.memory.rows(*table)) {
        let RowValue::Text(text) = &row.value else {
            continue;
        };
        let text = text.to_lowercase();
        for name in names {
            assert!(
                !text.contains(&name.to_lowercase()),
                "{name} was erased and is in {text}"
            );
        }
    }
}

fn erased_photographs_are_gone(town: &Town, erasures: &Erasures) {
    let folder = town.household.photos.snapshot();
    for hash in &erasures.blobs {
        let there = folder.contains_key(&hash.parse().expect("a hash"));
        assert!(!there, "{hash} was erased and is on the server");
        let holds = |phone: &Phone| phone.blobs().contains(hash);
        assert!(
            !town.phones.iter().any(holds),
            "{hash} was erased and is on a phone"
        );
    }
}
