//! What a helper's device offers again counts only if the server asks for it: such a device compares what it has first.

use crate::common::*;
use app_core::store::memory::now;
use shared::log::body::{Role, field};
use shared::log::{Draft, ReceivedEntry, UnixMs};
use shared::sync::Code;
use shared::sync::machine::{Progress, Settled};
use shared::sync::messages::Holding;

const LATER: UnixMs = UnixMs(MORNING.0 + 5);

/// The same entry as a server sends it that was set back and has received it anew.
fn received_later(held: &ReceivedEntry) -> ReceivedEntry {
    ReceivedEntry {
        received: Some(LATER),
        ..held.clone()
    }
}

/// The same entry without its content, as a faulty server may send it.
fn blanked(held: &ReceivedEntry) -> ReceivedEntry {
    let mut copy = held.clone();
    copy.entry.body.clear();
    copy
}

fn compares(device: &Device) -> bool {
    now(device.store.progress()).unwrap().compare
}

/// What the device tells the server that it has.
fn holdings(device: &Device) -> Vec<Holding> {
    now(device.store.load_holdings(None)).unwrap()
}

/// These entries, as a device holds them.
fn as_held(entries: &[ReceivedEntry]) -> Vec<Holding> {
    let holding = |held: &ReceivedEntry| Holding {
        id: held.entry.id,
        received: held.received,
    };
    entries.iter().map(holding).collect()
}

/// The comparison has come to its end.
fn compared(device: &Device) {
    now(device.store.doubt_blobs(Progress::default())).unwrap();
}

#[test]
fn a_helper_s_device_is_asked_for_what_the_server_has_blank_or_received_later() {
    for copy in [blanked, received_later] {
        for pairs in [1, 10] {
            let (device, _) = joined(Role::Helper);
            (1..pairs).for_each(|_| drop(taken_in(&device)));
            acknowledge(&device, MORNING);
            let before = held(&device.kv);
            let rows = device.kv.rows(app_core::store::tables::TAIL);
            let copies = before.iter().map(copy).collect();
            now(device.store.apply(copies, Progress::default())).unwrap();
            assert!(compares(&device));
            assert!(unsent(&device).is_empty(), "it was not asked for anything yet");
            assert_eq!(holdings(&device), as_held(&before));
            assert_eq!(
                device.kv.rows(app_core::store::tables::TAIL),
                rows,
                "nothing is written"
            );

            let asked: Vec<_> = before.iter().map(|held| held.entry.id).collect();
            now(device.store.mark_unsent(&asked)).unwrap();
            compared(&device);
            assert!(!compares(&device));
            assert_eq!(unsent(&device).len(), before.len());
            assert_eq!(held(&device.kv), before);
        }
    }
}

#[test]
fn what_a_repairer_has_taken_is_compared_too_if_it_was_received_before() {
    let (device, taken) = joined(Role::Helper);
    let before = held(&device.kv);
    let lost = before
        .iter()
        .find(|held| held.entry.subject == taken.pair && held.entry.kind == "detail")
        .unwrap();
    now(device.store.mark_unsent(&[lost.entry.id])).unwrap();
    refuse(&device, lost, Code::KeptForRepairer);
    assert!(!compares(&device));
    now(device
        .store
        .apply(vec![received_later(lost)], Progress::default()))
    .unwrap();
    assert!(compares(&device) && unsent(&device).is_empty());
    assert_eq!(now(device.store.counts()).unwrap().refused, 0);
    assert_eq!(holdings(&device), as_held(&before));
}

/// The device was a repairer's when it marked the entry, or the server has forgotten that it asked for it.
#[test]
fn a_device_that_is_not_believed_in_when_an_entry_was_received_compares() {
    let (device, _) = joined(Role::Helper);
    let before = held(&device.kv);
    let sent = [before[0].entry.id];
    let answer = |received| {
        now(device.store.mark_unsent(&sent)).unwrap();
        let accepted = Settled::Accepted {
            id: sent[0],
            received,
        };
        now(device.store.settle(&[accepted], Progress::default())).unwrap();
        compares(&device)
    };
    assert!(!answer(MORNING), "the server knows");
    assert!(answer(LATER));
    assert_eq!(holdings(&device), as_held(&before));
    compared(&device);
    assert!(!answer(MORNING), "the server knows now");
}

/// The server was set back.
#[test]
fn what_the_server_kept_for_a_repairer_is_sent_again_after_a_comparison() {
    let (device, taken) = joined(Role::Helper);
    let look = |value| Draft::new(taken.pair.clone(), detail(field::LOOK, value));
    let made = device.save(vec![look("oxford"), look("boot"), look("belt")]);
    for (held, code) in made
        .iter()
        .zip([Code::KeptForRepairer, Code::DroppedByRepairer, Code::IdTaken])
    {
        refuse(&device, held, code);
    }
    let shown = held(&device.kv);
    compared(&device);
    assert_eq!(unsent(&device), made[..1]);
    assert_eq!(now(device.store.counts()).unwrap().refused, 2);
    assert_eq!(held(&device.kv), shown, "it is left out as before");
    refuse(&device, &made[0], Code::KeptForRepairer);
    assert_eq!(now(device.store.counts()).unwrap().refused, 3);
}

#[test]
fn what_was_refused_is_not_shown_as_refused_once_the_server_has_it() {
    for role in [Role::Repairer, Role::Helper] {
        for (code, copy) in [
            (Code::Erased, blanked as fn(&ReceivedEntry) -> ReceivedEntry),
            (Code::Erased, received_later),
            (Code::KeptForRepairer, blanked),
            (Code::IdTaken, received_later),
        ] {
            let (device, _) = joined(role.clone());
            let before = held(&device.kv);
            now(device.store.mark_unsent(&[before[0].entry.id])).unwrap();
            refuse(&device, &before[0], code);
            assert_eq!(now(device.store.counts()).unwrap().refused, 1);
            let copies = vec![copy(&before[0])];
            now(device.store.apply(copies, Progress::default())).unwrap();
            assert_eq!(now(device.store.counts()).unwrap().refused, 0);
            assert_eq!(held(&device.kv), before);
            let is_helper = role == Role::Helper;
            assert_eq!(
                (compares(&device), unsent(&device).is_empty()),
                (is_helper, is_helper)
            );
        }
    }
}
