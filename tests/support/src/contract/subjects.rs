//! Tests of entries by subject, card links and awaited photographs.

use server_core::store::{BlobHash, BlobRow, BlobTx, LogTx, Store, StoreTx, TxMode};
use shared::log::{SubjectId, SubjectKind};
use uuid::Uuid;

use super::log::{named, put, read};
use crate::sample::{Pen, blob_of};

pub async fn everything_about_a_subject<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let (job, other) = (pen.whole_job(b"1"), pen.whole_job(b"2"));
    put(&store, &job.entries).await;
    put(&store, &other.entries).await;
    let mut tx = read(&store).await;
    let kinds = async |tx: &mut S::Tx, id: SubjectId| {
        let found = tx.about(&[id]).await.unwrap();
        found
            .iter()
            .map(|stored| stored.held.entry.kind.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(
        kinds(&mut tx, job.pair).await,
        ["opened", "card_link", "opened", "published"]
    );
    assert_eq!(
        kinds(&mut tx, job.customer).await,
        ["opened", "detail", "opened", "opened"]
    );
    let both = tx.about(&[job.pair, job.job, job.pair]).await.unwrap();
    let seqs: Vec<_> = both.iter().map(|stored| stored.seq).collect();
    assert!(
        seqs.is_sorted() && seqs.windows(2).all(|pair| pair[0] != pair[1]),
        "each once, in order: {seqs:?}"
    );
    assert_eq!(tx.on(&[job.pair]).await.unwrap().len(), 2);
    let shop = SubjectId(Uuid::from_u128(1));
    assert!(tx.shop_subjects().await.unwrap().is_empty());
    drop(tx);
    put(
        &store,
        &[
            pen.raw(SubjectKind::Shop, shop, "detail", "{}"),
            pen.raw(SubjectKind::Shop, shop, "erased", "{}"),
        ],
    )
    .await;
    let mut tx = read(&store).await;
    assert_eq!(tx.shop_subjects().await.unwrap(), [shop]);
    assert_eq!(tx.erasures().await.unwrap().len(), 1);
}

pub async fn jobs_here_are_opened_and_not_handed_over<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let [here, gone, doubtful] = [1, 2, 3].map(|_| pen.whole_job(b""));
    for job in [&here, &gone, &doubtful] {
        put(&store, &job.entries).await;
    }
    let done = [pen.hand_over(gone.job), pen.hand_over(doubtful.job)];
    put(&store, &done).await;
    put(
        &store,
        &[pen.raw(SubjectKind::Job, doubtful.job, "retracted", "{}")],
    )
    .await;
    let mut found = read(&store).await.jobs_perhaps_here().await.unwrap();
    found.sort();
    let mut expected = [here.job, doubtful.job];
    expected.sort();
    assert_eq!(found, expected);
}

pub async fn links_stay_with_their_first_pair<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let [one, two] = [pen.subject(), pen.subject()];
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.link("aa", one).await.unwrap();
    tx.link("aa", two).await.unwrap();
    tx.link("bb", one).await.unwrap();
    tx.commit().await.unwrap();
    let secrets = ["aa", "bb", "cc"].map(str::to_owned);
    let links = read(&store).await.linked_pairs(&secrets).await.unwrap();
    assert_eq!((links.len(), links["aa"], links["bb"]), (2, one, one));
    // The store takes the names of blobs from its caller and not from the body: this body names no blob.
    assert!(named(&pen.raw(SubjectKind::Pair, one, "card_link", "{}")).is_empty());
    assert_eq!(blob_of(b"x", "image/jpeg").sha256.len(), 64);
}

pub async fn blobs_are_awaited_until_they_come<S: Store>(store: S) {
    let mut pen = Pen::new(1);
    let jobs = [pen.whole_job(b"1"), pen.whole_job(b"2"), pen.whole_job(b"3")];
    let hashes: Vec<BlobHash> = jobs.iter().map(|job| job.blob.sha256.parse().unwrap()).collect();
    let row = |hash| BlobRow {
        hash,
        media_type: "image/jpeg".to_owned(),
        bytes: 1,
    };
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.add_blob(&row(hashes[2])).await.unwrap();
    tx.commit().await.unwrap();
    for job in &jobs {
        put(&store, &job.entries).await;
    }
    let awaited = async |most| {
        let mut awaited = read(&store).await.awaited(most).await.unwrap();
        awaited.sort();
        awaited
    };
    let mut expected = vec![hashes[0], hashes[1]];
    expected.sort();
    assert_eq!(awaited(10).await, expected, "the third was here first");
    assert_eq!(awaited(1).await.len(), 1);
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.add_blob(&row(hashes[0])).await.unwrap();
    tx.commit().await.unwrap();
    assert_eq!(awaited(10).await, [hashes[1]]);
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.remove_blob(&hashes[1]).await.unwrap();
    tx.commit().await.unwrap();
    assert!(awaited(10).await.is_empty(), "erased is not awaited");
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.miss_blob(&hashes[2]).await.unwrap();
    let nobody_names_it = BlobHash([7; 32]);
    tx.miss_blob(&nobody_names_it).await.unwrap();
    tx.commit().await.unwrap();
    assert_eq!(awaited(10).await, [hashes[2]], "lost bytes are awaited again");
    assert_eq!(read(&store).await.blob(&hashes[2]).await.unwrap(), None);
}
