//! Blank copies of entries: whatever arrives first, a device accepts one only if an erasure explains it.

use crate::common::*;
use app_core::store::memory::now;
use app_core::store::{Scope, Sha256Digest, tables};
use proptest::prelude::*;
use shared::log::{ReceivedEntry, UnixMs};
use shared::sync::Code;
use shared::sync::machine::{Progress, Settled};

/// The same entry without its content, as a faulty server may send it.
fn blanked(held: &ReceivedEntry) -> ReceivedEntry {
    let mut copy = held.clone();
    copy.entry.body.clear();
    copy.received = Some(MORNING);
    copy
}

fn apply(device: &Device, entries: &[ReceivedEntry]) {
    now(device.store.apply(entries.to_vec(), Progress::default())).unwrap();
}

/// A drop-off on another device, all its entries as a server sends them, sorted by id, and the erasure of its customer.
fn erased_elsewhere(elsewhere: &Device) -> (Taken, Vec<ReceivedEntry>, ReceivedEntry) {
    let taken = taken_in(elsewhere);
    let mut full = unsent(elsewhere);
    full.iter_mut().for_each(|held| held.received = Some(MORNING));
    full.sort_by_key(|held| held.entry.id);
    let erased = now(elsewhere.store.erase(vec![taken.customer.clone()], None)).unwrap();
    let mut erasure = erased.entries[0].clone();
    erasure.received = Some(UnixMs(MORNING.0 + 1));
    (taken, full, erasure)
}

#[test]
fn a_blank_copy_takes_nothing_from_a_phone_that_holds_the_content() {
    let device = Device::new(1);
    let taken = taken_in(&device);
    let (draft, blobs) = photo(&taken.job, "heel");
    now(device.store.save(vec![draft], blobs)).unwrap();
    acknowledge(&device, MORNING);
    let before = held(&device.kv);
    let blanks: Vec<_> = before.iter().map(blanked).collect();
    apply(&device, &blanks);
    assert_eq!(held(&device.kv), before);
    assert_eq!(device.kv.rows(tables::BLOBS).len(), 1, "the photograph is here");
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
    // The server has only blank copies, so the content is sent to it again.
    let mut offered: Vec<_> = unsent(&device).into_iter().map(|held| held.entry).collect();
    offered.sort_by_key(|entry| entry.id);
    let all: Vec<_> = before.into_iter().map(|held| held.entry).collect();
    assert_eq!(offered, all);
}

#[test]
fn a_blank_copy_is_set_aside_until_its_erasure_comes() {
    let (device, elsewhere) = (Device::new(1), Device::new(2));
    let (taken, full, erasure) = erased_elsewhere(&elsewhere);
    let blanks: Vec<_> = full
        .iter()
        .filter(|held| held.entry.subject == taken.customer)
        .map(blanked)
        .collect();
    apply(&device, &blanks);
    assert!(held(&device.kv).is_empty());
    assert!(
        now(device.store.entries_about(taken.customer.id))
            .unwrap()
            .is_empty()
    );
    assert_eq!(now(device.store.counts()).unwrap().entries, 0);
    assert!(
        now(device.store.load_holdings(None)).unwrap().is_empty(),
        "nothing to compare"
    );

    apply(&device, &[erasure]);
    let read = held(&device.kv);
    assert_eq!(read.len(), blanks.len() + 1);
    assert_eq!(now(device.store.counts()).unwrap().entries, read.len() as u64);
    assert!(unsent(&device).is_empty(), "the server has all of it");
}

#[test]
fn a_blank_copy_is_set_aside_until_a_full_one_comes() {
    let (device, elsewhere) = (Device::new(1), Device::new(2));
    let (_, full, _) = erased_elsewhere(&elsewhere);
    apply(&device, &full.iter().map(blanked).collect::<Vec<_>>());
    assert!(held(&device.kv).is_empty());
    apply(&device, &full);
    assert_eq!(held(&device.kv), full);
    assert_eq!(now(device.store.counts()).unwrap().entries, full.len() as u64);
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
}

/// The server was set back and received the entry again later, so the `received` of the blank copy that was set aside
/// is wrong.
#[test]
fn when_a_copy_that_was_set_aside_came_counts_for_nothing() {
    let (device, elsewhere) = (Device::new(1), Device::new(2));
    let (_, mut full, _) = erased_elsewhere(&elsewhere);
    apply(&device, &full.iter().map(blanked).collect::<Vec<_>>());
    full.iter_mut()
        .for_each(|held| held.received = Some(UnixMs(MORNING.0 + 5)));
    apply(&device, &full);
    assert_eq!(held(&device.kv), full);
    assert!(unsent(&device).is_empty(), "the server has all of it");
}

#[test]
fn a_server_that_knows_a_later_arrival_is_offered_the_earlier_one() {
    let device = Device::new(1);
    taken_in(&device);
    acknowledge(&device, MORNING);
    let before = held(&device.kv);
    let mut later = before.clone();
    later
        .iter_mut()
        .for_each(|held| held.received = Some(UnixMs(MORNING.0 + 5)));
    apply(&device, &later);
    assert_eq!(held(&device.kv), before);
    let mut offered = unsent(&device);
    offered.sort_by_key(|held| held.entry.id);
    assert_eq!(offered, before);
}

#[test]
fn erasures_are_offered_before_what_they_blank() {
    let device = Device::new(1);
    let taken = taken_in(&device);
    now(device.store.erase(vec![taken.customer], None)).unwrap();
    let offered = unsent(&device);
    assert_eq!(offered[0].entry.kind, "erased");
    assert!(offered.iter().any(|held| held.entry.is_blank()));
}

#[test]
fn what_was_refused_for_want_of_its_erasure_is_offered_again_once_the_server_has_that() {
    let device = Device::new(1);
    let taken = taken_in(&device);
    now(device.store.erase(vec![taken.customer], None)).unwrap();
    let offered = unsent(&device);
    let (erasure, others) = offered.split_first().unwrap();
    let became = |held: &ReceivedEntry| match held.entry.is_blank() {
        true => Settled::Refused {
            id: held.entry.id,
            problem: problem(Code::ErasureUnknown),
        },
        false => Settled::Accepted {
            id: held.entry.id,
            received: MORNING,
        },
    };
    let settled: Vec<_> = others.iter().map(became).collect();
    now(device.store.settle(&settled, Progress::default())).unwrap();
    let blank = others.iter().filter(|held| held.entry.is_blank()).count();
    assert_eq!(
        now(device.store.counts()).unwrap().refused,
        blank as u64,
        "it is told"
    );
    assert_eq!(unsent(&device).len(), 1);

    now(device.store.settle(&[became(erasure)], Progress::default())).unwrap();
    let counts = now(device.store.counts()).unwrap();
    assert_eq!((counts.refused, counts.unsent), (0, blank as u64));
    assert!(unsent(&device).iter().all(|held| held.entry.is_blank()));
}

/// SHA-256 from the `sha2` crate; the app uses the browser's.
struct Native;

impl Sha256Digest for Native {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        Ok(sha256(bytes))
    }
}

#[test]
fn a_backup_with_blank_copies_destroys_nothing() {
    let (device, elsewhere) = (Device::new(1), Device::new(2));
    let (_, full, _) = erased_elsewhere(&Device::new(3));
    apply(&device, &full);
    apply(&elsewhere, &full.iter().map(blanked).collect::<Vec<_>>());
    let mut file = Vec::new();
    now(elsewhere
        .store
        .write_backup(Scope::All, &Native, &mut |piece| file.extend(piece)))
    .unwrap();
    now(device.store.read_backup(&file, &Native)).unwrap();
    assert_eq!(held(&device.kv), full);

    // A new device does not accept the blank copies either.
    let new = Device::new(4);
    now(new.store.read_backup(&file, &Native)).unwrap();
    assert!(held(&new.kv).is_empty());
    apply(&new, &full);
    assert_eq!(held(&new.kv), full);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Full copies, blank copies and the erasure lead to the same state, in any order and in any batches.
    #[test]
    fn whatever_arrives_first_the_same_is_held(
        order in Just((0..25usize).collect::<Vec<_>>()).prop_shuffle(),
        cuts in prop::collection::vec(1..9usize, 25),
        erased in any::<bool>(),
        archived in any::<bool>(),
    ) {
        let (device, elsewhere) = (Device::new(1), Device::new(2));
        let (taken, full, erasure) = erased_elsewhere(&elsewhere);
        let taken_twice: Vec<_> = full.iter().cloned().chain(full.iter().map(blanked)).chain(erased.then_some(erasure)).collect();
        let mut stream: Vec<_> = order.into_iter().filter_map(|n| taken_twice.get(n).cloned()).collect();
        if archived {
            // Enough pairs that some of the entries are moved into the archive before the rest arrives.
            (0..9).for_each(|_| drop(taken_in(&device)));
            acknowledge(&device, MORNING);
        }
        let mut cuts = cuts.into_iter();
        while !stream.is_empty() {
            let cut = cuts.next().unwrap_or(1).min(stream.len());
            apply(&device, &stream.drain(..cut).collect::<Vec<_>>());
        }
        let ids: std::collections::BTreeSet<_> = full.iter().map(|held| held.entry.id).collect();
        let got: Vec<_> = held(&device.kv).into_iter().filter(|held| ids.contains(&held.entry.id)).collect();
        prop_assert_eq!(got.len(), full.len());
        for (one, whole) in got.iter().zip(&full) {
            let covered = erased && whole.entry.subject == taken.customer;
            prop_assert_eq!(one.entry.is_blank(), covered);
            prop_assert!(covered || one.entry == whole.entry);
        }
        prop_assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
        prop_assert_eq!(now(device.store.counts()).unwrap().entries, held(&device.kv).len() as u64);
    }
}
