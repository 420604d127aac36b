//! What sync needs of the store: unsent entries, accepted and refused ones, archiving, eviction of photographs.

use crate::common::*;
use app_core::store::memory::now;
use app_core::store::{Compacted, Size, tables};
use shared::log::Draft;
use shared::log::body::{Body, Note, field};
use shared::log::{ReceivedEntry, Subject, UnixMs};
use shared::sync::Code;
use shared::sync::machine::{BlobSettled, Progress, Settled};

#[test]
fn unsent_entries_come_as_made_and_within_the_size() {
    let device = Device::new(1);
    for _ in 0..100 {
        taken_in(&device);
    }
    let all = unsent(&device);
    assert!(
        all.windows(2)
            .all(|pair| pair[0].entry.device_seq + 1 == pair[1].entry.device_seq)
    );
    assert_eq!(all.len(), 800);
    let some = now(device.store.load_unsent(20_000)).unwrap();
    let json = serde_json::to_string(&some).unwrap().len();
    assert!((15_000..20_000).contains(&json), "{json} bytes");
    assert_eq!(some, all[..some.len()]);
    assert_eq!(
        now(device.store.load_unsent(1)).unwrap().len(),
        1,
        "one entry, however large"
    );
}

#[test]
fn what_the_server_hands_back_is_acknowledged() {
    let device = Device::new(1);
    taken_in(&device);
    let mut back = unsent(&device);
    back.iter_mut().for_each(|held| held.received = Some(MORNING));
    now(device.store.apply(back[..3].to_vec(), Progress::default())).unwrap();
    assert_eq!(unsent(&device).len(), 5);
    // The server has it with a later `received`, so it still has to be sent the earlier one.
    now(device.store.mark_unsent(&[back[0].entry.id])).unwrap();
    let later = ReceivedEntry {
        received: Some(UnixMs(MORNING.0 + 5)),
        ..back[0].clone()
    };
    now(device.store.apply(vec![later], Progress::default())).unwrap();
    assert_eq!(unsent(&device)[0].received, Some(MORNING));
    now(device.store.apply(vec![back[0].clone()], Progress::default())).unwrap();
    assert_eq!(unsent(&device).len(), 5);
}

fn note(job: Subject) -> Draft {
    let text = "left heel soft".to_owned();
    Draft::new(
        job,
        Body::Note(Note {
            of: None,
            text,
            voice: None,
        }),
    )
}

#[test]
fn a_large_heap_is_archived_when_it_is_acknowledged_and_again_after_a_doubt() {
    let device = Device::new(1);
    let taken = taken_in(&device);
    let notes = (0..100).map(|_| note(taken.job.clone())).collect();
    now(device.store.save(notes, Vec::new())).unwrap();
    let before = held(&device.kv);
    acknowledge(&device, UnixMs(i64::MAX));
    assert!(device.kv.rows(tables::TAIL).is_empty());
    let blocks = device.kv.rows(tables::BLOCKS);
    assert_eq!(held(&device.kv).len(), before.len());

    // The server asks for most entries again: none is stored twice, and an earlier `received` is kept.
    let ids: Vec<_> = before.iter().map(|held| held.entry.id).take(90).collect();
    now(device.store.mark_unsent(&ids)).unwrap();
    assert_eq!(device.kv.rows(tables::TAIL).len(), 90);
    acknowledge(&device, UnixMs(i64::MAX));
    assert!(device.kv.rows(tables::TAIL).is_empty());
    assert_eq!(device.kv.rows(tables::BLOCKS), blocks);
    now(device.store.mark_unsent(&ids)).unwrap();
    acknowledge(&device, UnixMs(7));
    let held = held(&device.kv);
    assert_eq!(
        held.iter()
            .filter(|held| held.received == Some(UnixMs(7)))
            .count(),
        90
    );
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
}

#[test]
fn a_refused_entry_waits_for_a_person_and_blocks_nothing() {
    let device = Device::new(1);
    taken_in(&device);
    let all = unsent(&device);
    let refused = Settled::Refused {
        id: all[0].entry.id,
        problem: problem(Code::LinkTaken),
    };
    now(device.store.settle(&[refused], Progress::default())).unwrap();
    assert_eq!(unsent(&device), all[1..]);
    assert_eq!(
        now(device.store.refused()).unwrap()[0].refused,
        Some(problem(Code::LinkTaken))
    );
    now(device.store.retry_refused()).unwrap();
    assert_eq!(unsent(&device), all);
}

#[test]
fn blobs_go_newest_job_first_and_a_failing_one_last() {
    let device = Device::new(1);
    let mut hashes = Vec::new();
    for content in ["old", "new"] {
        device.around.advance(60_000);
        let taken = taken_in(&device);
        let (draft, blobs) = photo(&taken.job, content);
        hashes.push(
            blobs
                .iter()
                .map(|blob| blob.about.sha256.clone())
                .collect::<Vec<_>>(),
        );
        now(device.store.save(vec![draft], blobs)).unwrap();
    }
    let [old, new] = [&hashes[0], &hashes[1]];
    let queue = || now(device.store.load_unsent_blobs()).unwrap();
    assert_eq!(
        queue(),
        [&new[1], &new[0], &old[1], &old[0]].map(Clone::clone),
        "the small one before the large"
    );
    let settled = [
        (new[1].clone(), BlobSettled::Later),
        (new[0].clone(), BlobSettled::Parked(problem(Code::MediaType))),
        (old[1].clone(), BlobSettled::Stored),
    ];
    now(device.store.settle_blobs(&settled)).unwrap();
    assert_eq!(queue(), [&old[0], &new[1]].map(Clone::clone));
    assert_eq!(
        now(device.store.parked()).unwrap(),
        [(new[0].clone(), problem(Code::MediaType))]
    );
    now(device.store.doubt_blobs(Progress::default())).unwrap();
    assert_eq!(
        queue().len(),
        3,
        "what was confirmed is in doubt; what is parked stays parked"
    );
    assert_eq!(
        now(device.store.outgoing_blob(&old[0])).unwrap().unwrap().bytes,
        b"old"
    );
}

#[test]
fn only_confirmed_pictures_of_pairs_long_gone_leave_the_phone() {
    let device = Device::new(1);
    let month = 30 * 24 * 3600 * 1000;
    let photographed = |content: &str| {
        let taken = taken_in(&device);
        let (draft, blobs) = photo(&taken.job, content);
        let hash = blobs[0].about.sha256.clone();
        let all: Vec<_> = blobs.iter().map(|blob| blob.about.sha256.clone()).collect();
        now(device.store.save(vec![draft], blobs)).unwrap();
        (taken, hash, all)
    };
    let (gone, gone_hash, gone_all) = photographed("gone");
    let (_, here_hash, here_all) = photographed("here");
    let (unconfirmed, unconfirmed_hash, _) = photographed("unconfirmed");
    device.save(vec![hand_over(&gone.job), hand_over(&unconfirmed.job)]);
    let stored = gone_all
        .iter()
        .chain(&here_all)
        .map(|hash| (hash.clone(), BlobSettled::Stored));
    now(device.store.settle_blobs(&stored.collect::<Vec<_>>())).unwrap();

    let wall = |device: &Device| app_core::store::Surroundings::now(&device.around);
    let ago = |device: &Device| UnixMs(wall(device).0 - month);
    assert_eq!(
        now(device.store.evict_full_photos(ago(&device))).unwrap(),
        0,
        "not yet a month"
    );
    device.around.advance(month + 1);
    assert_eq!(now(device.store.evict_full_photos(ago(&device))).unwrap(), 4);
    let here = |hash: &str| now(device.store.blob(hash)).unwrap().is_some();
    assert_eq!(
        (here(&gone_hash), here(&here_hash), here(&unconfirmed_hash)),
        (false, true, true)
    );
    assert!(here(&gone_all[1]), "thumbnails stay");
    assert!(
        !now(device.store.load_unsent_blobs())
            .unwrap()
            .contains(&gone_hash),
        "nothing to send any more"
    );

    let place = app_core::store::BlobPlace {
        subject: gone.job.id,
        size: Size::Full,
    };
    now(device.store.keep_blob(blob("gone"), place)).unwrap();
    assert!(here(&gone_hash), "it comes back on demand");
}

#[test]
fn tidying_archives_what_has_left_the_shop_and_changes_nothing_else() {
    let device = Device::new(1);
    let pairs: Vec<_> = (0..12).map(|_| taken_in(&device)).collect();
    let open = &pairs[0];
    device.save(pairs[1..].iter().map(|taken| hand_over(&taken.job)).collect());
    acknowledge_by(20, &device, MORNING);
    device.save(vec![step(&pairs[5].job, "stretch")]);
    let (before, summaries) = (held(&device.kv), stored_summaries(&device.kv));
    while now(device.store.compact()).unwrap() == Compacted::Partly {}
    assert_eq!(
        (held(&device.kv), stored_summaries(&device.kv)),
        (before, summaries)
    );
    assert_eq!(device.kv.rows(tables::BLOCKS).len(), 1);
    let live = device.kv.rows(tables::TAIL);
    assert_eq!(live.len(), 8 + 1, "the open pair and what is unsent");
    assert_eq!(
        now(device.store.pair_history(open.pair.id)).unwrap().jobs.len(),
        1
    );
    let history = now(device.store.history(pairs[5].pair.id)).unwrap();
    assert_eq!(history.last().map(|held| held.entry.kind.as_str()), Some("step"));

    // A later acknowledgement of an archived entry is stored in the tail until the next archiving.
    let archived = history[0].clone();
    let earlier = ReceivedEntry {
        received: Some(UnixMs(MORNING.0 - 1)),
        ..archived.clone()
    };
    now(device.store.apply(vec![earlier.clone()], Progress::default())).unwrap();
    assert!(held(&device.kv).contains(&earlier));
    now(device.store.mark_unsent(&[archived.entry.id])).unwrap();
    assert!(unsent(&device).contains(&earlier));
}

#[test]
fn a_corrected_clock_recovers_once_its_entries_are_taken() {
    let device = Device::new(1);
    let years = 10 * 365 * 24 * 3600 * 1000;
    device.around.advance(years);
    let ahead = device.save(vec![Draft::new(
        taken(&device).pair,
        detail(field::LOOK, "derby"),
    )]);
    device.around.advance(-years);
    let still = device.save(vec![Draft::new(taken(&device).pair, detail(field::LOOK, "boot"))]);
    assert!(
        still[0].entry.stamp > ahead[0].entry.stamp,
        "the device's own order is kept"
    );
    let received = app_core::store::Surroundings::now(&device.around);
    acknowledge(&device, received);
    let after = device.save(vec![Draft::new(taken(&device).pair, detail(field::LOOK, "belt"))]);
    assert_eq!(after[0].entry.stamp.ms, UnixMs(received.0 + 1000));
}
