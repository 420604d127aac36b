//! Entries and their numbering.

use server_core::store::{
    Arrival, Blank, BlobHash, Budget, LogTx, NewEntry, Numbered, PushedBy, Store, StoreTx, StoredEntry,
    TxMode,
};
use shared::log::{Entry, EntryId, ReceivedEntry, SubjectKind, UnixMs, about};
use shared::sync::HistoryMark;
use uuid::Uuid;

use crate::sample::Pen;

pub(super) const PLENTY: Budget = Budget {
    rows: 1_000,
    bytes: 1_000_000,
};

/// Stores entries in one transaction, numbered from the counter as the server does.
pub(super) async fn put<S: Store>(store: &S, entries: &[Entry]) -> Vec<StoredEntry> {
    put_at(store, entries, UnixMs(1)).await
}

/// The same for entries that arrive at this time of the server's clock.
pub(super) async fn put_at<S: Store>(store: &S, entries: &[Entry], at: UnixMs) -> Vec<StoredEntry> {
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    let mut counter = tx.counter().await.unwrap();
    let ids: Vec<_> = entries.iter().map(|entry| entry.subject.id).collect();
    let mut subjects = tx.first_seqs(&ids).await.unwrap();
    let (mut new, mut feed) = (Vec::new(), Vec::new());
    for entry in entries {
        counter.seq += 1;
        let subject_seq = *subjects.entry(entry.subject.id).or_insert(counter.seq);
        let held = ReceivedEntry {
            entry: entry.clone(),
            received: Some(UnixMs(1_000 + counter.seq as i64)),
        };
        let named = named(entry);
        new.push(NewEntry {
            stored: StoredEntry {
                held,
                seq: counter.seq,
                subject_seq,
            },
            about: about(entry),
            named,
        });
        feed.push(Numbered {
            seq: counter.seq,
            mark: mark(counter.seq),
            entry: counter.seq,
        });
    }
    let device = entries.first().map(|entry| entry.device);
    tx.insert(&new, PushedBy { device, at }).await.unwrap();
    tx.number(&feed).await.unwrap();
    tx.set_counter(&counter).await.unwrap();
    tx.commit().await.unwrap();
    new.into_iter().map(|new| new.stored).collect()
}

fn mark(seq: u64) -> Uuid {
    Uuid::from_u128(0xfeed << 64 | u128::from(seq))
}

pub(super) fn named(entry: &Entry) -> Vec<BlobHash> {
    let at = entry.body.find("\"sha256\":\"").map(|at| at + 10);
    at.and_then(|at| entry.body[at..at + 64].parse().ok())
        .into_iter()
        .collect()
}

pub(super) async fn read<S: Store>(store: &S) -> S::Tx {
    store.begin(TxMode::Read).await.unwrap()
}

pub async fn a_fresh_store_is_empty<S: Store>(store: S) {
    let mut tx = read(&store).await;
    let counter = tx.counter().await.unwrap();
    assert_eq!(
        (counter.shop, counter.epoch),
        (Uuid::from_u128(1), Uuid::from_u128(2))
    );
    assert_eq!(
        (counter.seq, counter.last_received, counter.letters_given),
        (0, UnixMs(0), 0)
    );
    assert_eq!(
        (tx.entry_count().await.unwrap(), tx.feed_count().await.unwrap()),
        (0, 0)
    );
    let page = tx.feed_after(0, PLENTY).await.unwrap();
    assert!(page.rows.is_empty() && !page.more);
    assert!(tx.history(10, None, PLENTY).await.unwrap().rows.is_empty());
    assert!(tx.stored(&[]).await.unwrap().is_empty() && tx.about(&[]).await.unwrap().is_empty());
    assert_eq!(tx.mark_at(0).await.unwrap(), None);
}

pub async fn what_is_dropped_never_happened<S: Store>(store: S) {
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    let mut counter = tx.counter().await.unwrap();
    counter.seq = 7;
    tx.set_counter(&counter).await.unwrap();
    tx.link("aa", Pen::new(1).subject()).await.unwrap();
    drop(tx);
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    assert_eq!(tx.counter().await.unwrap().seq, 0);
    assert!(tx.linked_pairs(&["aa".to_owned()]).await.unwrap().is_empty());
}

pub async fn entries_come_back_as_they_went_in<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let subject = pen.subject();
    let mut full = pen.raw(
        SubjectKind::from("odd kind"),
        subject,
        "k",
        "{\"é\": \"\u{0}\u{1F97F}\"} ",
    );
    full.over = vec![EntryId(Uuid::from_u128(5)), EntryId(Uuid::from_u128(6))];
    full.person = Some(shared::log::PersonId(Uuid::from_u128(9)));
    full.stamp.counter = u32::MAX;
    full.stamp.ms = UnixMs::MAX;
    full.device_seq = (1 << 53) - 1;
    full.version = u32::MAX;
    full.made_at.offset_min = -1440;
    let plain = pen.raw(SubjectKind::Pair, subject, "k", "");
    let put = put(&store, &[full.clone(), plain.clone()]).await;
    let mut tx = read(&store).await;
    let ids = [plain.id, full.id, EntryId(Uuid::from_u128(404))];
    let mut found = tx.stored(&ids).await.unwrap();
    found.sort_by_key(|stored| stored.seq);
    assert_eq!(found, put);
    let arrivals = tx.arrivals(&ids).await.unwrap();
    assert_eq!(arrivals.len(), 2);
    assert_eq!(
        arrivals[&full.id],
        Arrival {
            received: UnixMs(1_001),
            blank: None
        }
    );
    let blank = Blank {
        subject: plain.subject.clone(),
        kind: plain.kind.clone(),
    };
    assert_eq!(arrivals[&plain.id].blank, Some(blank));
    let blank = tx.blank_entries().await.unwrap();
    assert_eq!(
        blank.iter().map(|held| held.entry.id).collect::<Vec<_>>(),
        [plain.id]
    );
    assert_eq!(tx.on(&[subject]).await.unwrap(), put);
    assert_eq!(tx.first_seqs(&[subject]).await.unwrap()[&subject], 1);
}

pub async fn writers_wait_for_each_other<S: Store>(store: S) {
    let add = async |store: S| {
        let mut tx = store.begin(TxMode::Write).await.unwrap();
        let mut counter = tx.counter().await.unwrap();
        tokio::task::yield_now().await;
        counter.letters_given += 1;
        tx.set_counter(&counter).await.unwrap();
        tx.commit().await.unwrap();
    };
    let all = (0..20).map(|_| add(store.clone()));
    futures_util::future::join_all(all).await;
    assert_eq!(read(&store).await.counter().await.unwrap().letters_given, 20);
}

pub async fn a_reader_sees_one_state<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    put(&store, &pen.whole_job(b"").entries).await;
    let mut before = read(&store).await;
    let count = before.entry_count().await.unwrap();
    put(&store, &pen.whole_job(b"").entries).await;
    assert_eq!(before.entry_count().await.unwrap(), count);
    assert_eq!(before.counter().await.unwrap().seq, count);
    assert_eq!(read(&store).await.entry_count().await.unwrap(), 2 * count);
}

pub async fn the_feed_runs_in_order_and_stops_at_its_budget<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let subject = pen.subject();
    let entries: Vec<_> = (0..10)
        .map(|_| pen.raw(SubjectKind::Pair, subject, "note", "0123456789"))
        .collect();
    let put = put(&store, &entries).await;
    let mut tx = read(&store).await;
    let all = tx.feed_after(0, PLENTY).await.unwrap();
    assert!(!all.more);
    assert!(
        all.rows
            .iter()
            .map(|(_, held)| held)
            .eq(put.iter().map(|stored| &stored.held))
    );
    assert!(
        all.rows
            .iter()
            .all(|(numbered, _)| numbered.mark == mark(numbered.seq))
    );
    assert_eq!(tx.mark_at(4).await.unwrap(), Some(mark(4)));
    for (budget, rows, more) in [
        (Budget { rows: 3, ..PLENTY }, 3, true),
        (Budget { bytes: 25, ..PLENTY }, 3, true),
        (Budget { bytes: 1, ..PLENTY }, 1, true),
        (Budget { rows: 8, ..PLENTY }, 8, false),
    ] {
        let page = tx.feed_after(2, budget).await.unwrap();
        assert_eq!((page.rows.len(), page.more), (rows, more), "{budget:?}");
        assert_eq!(page.rows[0].0.seq, 3);
    }
    assert!(tx.feed_after(10, PLENTY).await.unwrap().rows.is_empty());
}

pub async fn history_runs_newest_subject_first<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let [a, b] = [pen.subject(), pen.subject()];
    let write = |pen: &mut Pen, subject| pen.raw(SubjectKind::Pair, subject, "note", "x");
    // The entries get these numbers: a 1, b 2, a 3, b 4, b 5; number 6 comes after the start of the history.
    let subjects = [a, b, a, b, b, a];
    let entries: Vec<_> = subjects.iter().map(|subject| write(&mut pen, *subject)).collect();
    put(&store, &entries).await;
    let mut tx = read(&store).await;
    let mut order = Vec::new();
    let mut from = None;
    loop {
        let page = tx.history(5, from, Budget { rows: 2, ..PLENTY }).await.unwrap();
        order.extend(page.rows.iter().map(|stored| stored.seq));
        from = page.rows.last().map(|last| HistoryMark {
            subject_seq: last.subject_seq,
            seq: last.seq,
        });
        if !page.more {
            break;
        }
    }
    assert_eq!(order, [2, 4, 5, 1, 3]);
    let end = HistoryMark {
        subject_seq: 1,
        seq: 3,
    };
    let past = tx.history(5, Some(end), PLENTY).await.unwrap();
    assert!(past.rows.is_empty() && !past.more);
}

pub async fn blanking_empties_and_unlinks<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let job = pen.whole_job(b"picture");
    let stored = put(&store, &job.entries).await;
    let hash = job.blob.sha256.parse().unwrap();
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    assert_eq!(tx.naming(&hash).await.unwrap().len(), 2);
    assert_eq!(tx.all_named().await.unwrap(), [hash]);
    for one in stored.iter().filter(|stored| stored.subject().id == job.job) {
        tx.blank(one).await.unwrap();
    }
    tx.commit().await.unwrap();
    let mut tx = read(&store).await;
    assert!(tx.naming(&hash).await.unwrap().is_empty() && tx.all_named().await.unwrap().is_empty());
    let own = tx.on(&[job.job]).await.unwrap();
    assert!(own.len() == 4 && own.iter().all(|stored| stored.held.entry.is_blank()));
    let about = tx.about(&[job.pair]).await.unwrap();
    assert!(
        about.iter().all(|stored| stored.subject().id == job.pair),
        "the job no longer leads to the pair"
    );
    drop(tx);
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    for stored in stored.iter().filter(|stored| stored.subject().id == job.job) {
        let entry = NewEntry {
            stored: stored.clone(),
            about: shared::log::about(&stored.held.entry),
            named: vec![hash],
        };
        tx.fill(&entry).await.unwrap();
    }
    tx.commit().await.unwrap();
    let mut tx = read(&store).await;
    assert_eq!(tx.on(&[job.job]).await.unwrap(), stored[5..], "filled again");
    assert_eq!(tx.naming(&hash).await.unwrap().len(), 4);
    let about = tx.about(&[job.pair]).await.unwrap();
    assert!(about.iter().any(|stored| stored.subject().id == job.job));
}

pub async fn lowering_and_numbering_again<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let stored = put(&store, &pen.whole_job(b"").entries).await;
    let last = stored.last().unwrap().seq;
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.lower(1, UnixMs(5)).await.unwrap();
    tx.number(&[Numbered {
        seq: last + 1,
        mark: mark(last + 1),
        entry: 1,
    }])
    .await
    .unwrap();
    tx.commit().await.unwrap();
    let mut tx = read(&store).await;
    let page = tx.feed_after(last, PLENTY).await.unwrap();
    assert_eq!(page.rows.len(), 1);
    let (numbered, held) = &page.rows[0];
    assert_eq!(
        (numbered.seq, numbered.entry, held.received),
        (last + 1, 1, Some(UnixMs(5)))
    );
    assert_eq!(held.entry, stored[0].held.entry);
    assert_eq!(
        (tx.entry_count().await.unwrap(), tx.feed_count().await.unwrap()),
        (last, last + 1)
    );
}
