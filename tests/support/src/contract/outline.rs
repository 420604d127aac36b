//! Tests of reading a part of what is stored about some subjects.

use server_core::store::{Budget, OutlineTx, Store, StoredEntry, outline_bytes};
use shared::log::SubjectKind;

use super::log::{PLENTY, put, read};
use crate::sample::Pen;

fn seqs(rows: &[StoredEntry]) -> Vec<u64> {
    rows.iter().map(|stored| stored.seq).collect()
}

pub async fn an_outline_has_what_is_asked_for_and_what_replaces<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let job = pen.whole_job(b"");
    let mut replaced = pen.raw(SubjectKind::Pair, job.pair, "note", "long and of no use here");
    replaced.over = vec![job.entries[3].id, job.entries[2].id];
    put(&store, &job.entries).await;
    put(
        &store,
        &[replaced, pen.raw(SubjectKind::Pair, job.pair, "note", "{}")],
    )
    .await;
    let mut tx = read(&store).await;
    let asked = [job.pair, job.job, job.pair];
    let page = tx
        .outline(&asked, &["opened", "card_link"], PLENTY)
        .await
        .unwrap();
    assert!(!page.more);
    // The pair's opening and card link, the job's opening, which both subjects have, and the note.
    assert_eq!(seqs(&page.rows), [3, 4, 6, 10]);
    let blank: Vec<_> = page
        .rows
        .iter()
        .map(|stored| stored.held.entry.is_blank())
        .collect();
    assert_eq!(blank, [false, false, false, true]);
    assert_eq!(
        (page.rows[3].held.entry.over.len(), outline_bytes(&page.rows[3])),
        (2, 32)
    );
    let nothing = tx.outline(&[], &["opened"], PLENTY).await.unwrap();
    assert!(nothing.rows.is_empty() && !nothing.more);
    let nothing = tx.outline(&[job.ticket], &["card_link"], PLENTY).await.unwrap();
    assert!(nothing.rows.is_empty() && !nothing.more);
}

pub async fn an_outline_stops_at_its_budget<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let [one, two] = [pen.subject(), pen.subject()];
    let entries: Vec<_> = (0..20)
        .map(|n| {
            pen.raw(
                SubjectKind::Pair,
                if n < 10 { one } else { two },
                "note",
                "0123456789",
            )
        })
        .collect();
    put(&store, &entries).await;
    let mut tx = read(&store).await;
    for (budget, rows, more) in [
        (Budget { rows: 12, ..PLENTY }, 12, true),
        (Budget { bytes: 25, ..PLENTY }, 3, true),
        (Budget { rows: 20, ..PLENTY }, 20, false),
    ] {
        let page = tx.outline(&[one, two], &["note"], budget).await.unwrap();
        assert_eq!((page.rows.len(), page.more), (rows, more), "{budget:?}");
        let ids: Vec<_> = entries.iter().map(|entry| entry.id).collect();
        let page = tx.stored_within(&ids, budget).await.unwrap();
        assert_eq!((page.rows.len(), page.more), (rows, more), "{budget:?}");
    }
}

pub async fn one_subject_is_read_in_parts<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let [one, two] = [pen.subject(), pen.subject()];
    // The entries get these numbers: one 1, two 2, one 3, one 4, two 5, one 6.
    let subjects = [one, two, one, one, two, one];
    let entries = subjects.map(|subject| pen.raw(SubjectKind::Pair, subject, "note", "x"));
    put(&store, &entries).await;
    let mut tx = read(&store).await;
    for (first, after, upto, rows, expected, more) in [
        (1, 0, 6, 10, vec![1, 3, 4, 6], false),
        (1, 0, 6, 2, vec![1, 3], true),
        (1, 3, 6, 2, vec![4, 6], false),
        (1, 3, 5, 2, vec![4], false),
        (2, 0, 6, 10, vec![2, 5], false),
        (2, 5, 6, 10, vec![], false),
        (7, 0, 9, 10, vec![], false),
    ] {
        let budget = Budget { rows, ..PLENTY };
        let page = tx.on_subject(first, after, upto, budget).await.unwrap();
        assert_eq!(
            (seqs(&page.rows), page.more),
            (expected, more),
            "{first} {after} {upto}"
        );
    }
}
