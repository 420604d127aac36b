//! What `waxend check` reads.

use std::collections::BTreeSet;

use server_core::store::{
    BlobHash, Budget, CheckTx, CheckedEntry, LogTx, NewEntry, Store, StoreTx, StoredEntry, TxMode,
};
use shared::log::{SubjectKind, UnixMs};

use super::log::{PLENTY, put, read};
use crate::sample::Pen;

fn intact(stored: &[StoredEntry]) -> Vec<CheckedEntry> {
    let checked = stored.iter().map(|stored| CheckedEntry {
        seq: stored.seq,
        intact: Some(stored.clone()),
    });
    checked.collect()
}

pub async fn a_sound_store_has_no_faults<S: Store>(store: S) {
    assert_eq!(store.faults().await.unwrap(), Vec::<String>::new());
    put(&store, &Pen::new(1).whole_job(b"").entries).await;
    assert_eq!(store.faults().await.unwrap(), Vec::<String>::new());
}

pub async fn the_check_reads_every_entry_in_order<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let stored = put(&store, &pen.whole_job(b"").entries).await;
    let mut tx = read(&store).await;
    let all = tx.entries_after(0, PLENTY).await.unwrap();
    assert!(all.rows == intact(&stored) && !all.more);
    let some = tx.entries_after(2, Budget { rows: 3, ..PLENTY }).await.unwrap();
    assert!(some.rows == intact(&stored[2..5]) && some.more);
    let last = stored.last().unwrap().seq;
    let none = tx.entries_after(last, PLENTY).await.unwrap();
    assert!(none.rows.is_empty() && !none.more);
}

/// What the store itself has changed is no damage.
pub async fn a_changed_entry_is_intact<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let job = pen.whole_job(b"picture");
    let mut stored = put(&store, &job.entries).await;
    let blob = job.blob.sha256.parse().unwrap();
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.lower(stored[0].seq, UnixMs(5)).await.unwrap();
    stored[0].held.received = Some(UnixMs(5));
    for one in &mut stored[6..8] {
        tx.blank(one).await.unwrap();
        one.held.entry.body.clear();
    }
    let full = StoredEntry {
        held: shared::log::ReceivedEntry {
            entry: job.entries[6].clone(),
            ..stored[6].held.clone()
        },
        ..stored[6].clone()
    };
    let about = shared::log::about(&full.held.entry);
    let entry = NewEntry {
        stored: full.clone(),
        about,
        named: vec![blob],
    };
    tx.fill(&entry).await.unwrap();
    stored[6] = full;
    tx.commit().await.unwrap();
    let read = read(&store).await.entries_after(0, PLENTY).await.unwrap();
    assert_eq!(read.rows, intact(&stored));
}

pub async fn derived_rows_are_those_of_their_range<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let job = pen.whole_job(b"picture");
    let subject = pen.subject();
    // The job's entries have the numbers 1 to 9.
    put(&store, &job.entries).await;
    let after = put(&store, &[pen.raw(SubjectKind::Pair, subject, "note", "{}")]).await;
    let mut tx = read(&store).await;
    let derived = tx.derived(6..=7).await.unwrap();
    assert_eq!(derived.subjects, [(job.entries[5].subject.clone(), 6)]);
    let about = [(6, job.pair), (6, job.ticket), (6, job.job), (7, job.job)];
    assert_eq!(derived.about, BTreeSet::from(about));
    let blob: BlobHash = job.blob.sha256.parse().unwrap();
    assert_eq!(derived.named, BTreeSet::from([(7, blob)]));
    assert_eq!(derived.feed, BTreeSet::from([(6, 6), (7, 7)]));
    let rest = tx.derived(10..=u64::MAX).await.unwrap();
    assert_eq!(rest.subjects, [(after[0].subject().clone(), 10)]);
    assert_eq!(rest.about, BTreeSet::from([(10, subject)]));
    assert!(rest.named.is_empty() && rest.feed == BTreeSet::from([(10, 10)]));
    assert!(tx.derived(11..=u64::MAX).await.unwrap().feed.is_empty());
}
