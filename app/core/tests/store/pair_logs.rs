//! The log of whole pairs, and which pairs have left the shop lately.

use crate::common::*;
use app_core::store::memory::now;
use app_core::store::tables;
use shared::analytics::PairLog;
use shared::log::body::{Body, Note, Retracted, SameAs};
use shared::log::{Draft, ReceivedEntry, SubjectId, SubjectKind, UnixMs};

/// One day, in ms.
const DAY_MS: i64 = 86_400_000;

/// Saves so much about a job that the archive takes all of it when it is acknowledged.
fn archive(device: &Device, taken: &Taken) {
    let note = Note {
        of: None,
        text: "left heel soft".to_owned(),
        voice: None,
    };
    let note = Draft::new(taken.job.clone(), Body::Note(note));
    device.save(vec![note; 100]);
    acknowledge(device, UnixMs(i64::MAX));
    assert!(device.kv.rows(tables::TAIL).is_empty());
}

fn logs(device: &Device, pairs: &[SubjectId]) -> Vec<PairLog> {
    now(device.store.pair_logs(pairs)).unwrap()
}

#[test]
fn a_pair_that_left_is_found_by_when_it_left_in_the_tail_and_in_the_archive() {
    let device = Device::new(1);
    let [long_ago, lately, _here] = [(); 3].map(|()| taken_in(&device));
    device.save(vec![hand_over(&long_ago.job)]);
    // The last half hour of a month by UTC, which is the next month in the shop.
    let since = UnixMs(MORNING.0 + 29 * DAY_MS + 15 * 3_600_000 + 1_800_000);
    device.around.set(since);
    let left = |since| now(device.store.left_since(since)).unwrap();
    assert!(left(since).is_empty());
    let saved = device.save(vec![hand_over(&lately.job)]);
    assert_eq!(left(since), [lately.pair.id]);
    assert!(left(UnixMs(saved[0].entry.made_at.utc.0 + 1)).is_empty());
    assert_eq!(
        left(UnixMs(MORNING.0 - DAY_MS)),
        [long_ago.pair.id, lately.pair.id]
    );
    archive(&device, &lately);
    assert_eq!(left(since), [lately.pair.id]);
    let back = Body::Retracted(Retracted {
        entry: saved[0].entry.id,
    });
    device.save(vec![Draft::new(lately.job, back)]);
    assert!(left(since).is_empty(), "it is back in the shop");
}

#[test]
fn each_pair_has_its_own_log_without_its_customer() {
    let device = Device::new(1);
    let all = [(); 3].map(|()| taken_in(&device));
    let asked: Vec<_> = all.iter().map(|taken| taken.pair.id).collect();
    let is_whole = |logs: &[PairLog]| {
        for taken in &all[..2] {
            let log = logs.iter().find(|log| log.pair == taken.pair.id).unwrap();
            let own = [&taken.pair, &taken.job, &taken.ticket];
            assert!(log.entries.iter().all(|held| own.contains(&&held.entry.subject)));
            assert!(log.entries.is_sorted_by_key(ReceivedEntry::position));
            assert_eq!(log.entries, now(device.store.history(taken.pair.id)).unwrap());
        }
    };
    let first = logs(&device, &asked[..2]);
    is_whole(&first);
    let lengths: Vec<_> = first.iter().map(|log| log.entries.len()).collect();
    assert_eq!(lengths, [6, 6]);
    archive(&device, &all[0]);
    let archived = logs(&device, &asked[..2]);
    is_whole(&archived);
    assert_eq!(archived[0].entries.len(), 106);
    let unknown = device.subject(SubjectKind::Pair).id;
    assert!(logs(&device, &[unknown]).is_empty());
}

#[test]
fn pairs_that_are_the_same_have_one_log() {
    let device = Device::new(1);
    let [one, other] = [(); 2].map(|()| taken_in(&device));
    let same = Body::SameAs(SameAs { other: other.pair.id });
    device.save(vec![Draft::new(one.pair.clone(), same)]);
    let both = logs(&device, &[one.pair.id, other.pair.id]);
    assert_eq!(both.len(), 1);
    assert_eq!(both[0].entries.len(), 13);
    assert_eq!(logs(&device, &[other.pair.id]), both);
    let histories = now(device.store.pair_histories(&[one.pair.id, other.pair.id])).unwrap();
    assert_eq!(histories.len(), 1);
    assert_eq!(histories[0].jobs.len(), 2);
}
