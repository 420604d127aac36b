//! Entries that are kept aside.

use server_core::store::{AsideRow, AsideSize, AsideTx, Budget, Store, StoreTx, TxMode, aside_bytes};
use shared::log::{EntryId, ReceivedEntry, SubjectKind, UnixMs};
use shared::sync::messages::KeptAside;
use uuid::Uuid;

use super::log::{PLENTY, read};
use crate::sample::Pen;

/// Three entries that a device has sent, the first and the last about one subject.
fn three() -> Vec<KeptAside> {
    let mut pen = Pen::new(1);
    let [one, two] = [pen.subject(), pen.subject()];
    let odd = "{ \"é\": \"\u{0}\u{1F97F}\"} ";
    [(one, "{}"), (two, odd), (one, "")]
        .map(|(subject, body)| KeptAside {
            entry: ReceivedEntry {
                entry: pen.raw(SubjectKind::Shop, subject, "detail", body),
                received: Some(UnixMs(3)),
            },
            device: Pen::new(2).device,
            arrived: UnixMs(7),
        })
        .into()
}

fn id(kept: &KeptAside) -> EntryId {
    kept.entry.entry.id
}

async fn keep<S: Store>(store: &S, kept: &[KeptAside]) {
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.keep_aside(kept).await.unwrap();
    tx.commit().await.unwrap();
}

async fn kept<S: Store>(store: &S) -> Vec<KeptAside> {
    let page = read(store).await.kept_aside(PLENTY).await.unwrap();
    assert!(!page.more);
    page.rows
}

pub async fn what_is_kept_aside_comes_back_as_it_went_in<S: Store>(store: S) {
    let all = three();
    assert_eq!(
        read(&store).await.aside_size().await.unwrap(),
        AsideSize::default()
    );
    keep(&store, &all[..2]).await;
    keep(&store, &all[2..]).await;
    assert_eq!(kept(&store).await, all);
    let mut tx = read(&store).await;
    let size = AsideSize {
        entries: 3,
        bytes: all.iter().map(|kept| aside_bytes(&kept.entry)).sum(),
    };
    assert_eq!(tx.aside_size().await.unwrap(), size);
    let first = aside_bytes(&all[0].entry) as usize;
    for budget in [
        Budget { rows: 1, ..PLENTY },
        Budget {
            bytes: first,
            ..PLENTY
        },
    ] {
        let page = tx.kept_aside(budget).await.unwrap();
        assert!(page.rows == all[..1] && page.more, "{budget:?}");
    }
    let subject = all[0].entry.entry.subject.id;
    let about = tx.kept_aside_about(subject).await.unwrap();
    assert_eq!(about, [all[0].clone(), all[2].clone()]);
    let unknown = EntryId(Uuid::from_u128(404));
    let noted = tx.aside(&[id(&all[1]), unknown]).await.unwrap();
    assert_eq!(noted.len(), 1);
    assert_eq!(noted[&id(&all[1])], AsideRow::Kept(Box::new(all[1].clone())));
}

pub async fn what_was_dropped_has_no_content<S: Store>(store: S) {
    let all = three();
    keep(&store, &all).await;
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    let never_kept = EntryId(Uuid::from_u128(404));
    tx.drop_aside(&[id(&all[0]), never_kept]).await.unwrap();
    tx.commit().await.unwrap();
    assert_eq!(kept(&store).await, all[1..]);
    let mut tx = read(&store).await;
    let noted = tx.aside(&[id(&all[0]), never_kept]).await.unwrap();
    assert_eq!((noted.len(), &noted[&id(&all[0])]), (1, &AsideRow::Dropped));
    let size = tx.aside_size().await.unwrap();
    let bytes = all[1..].iter().map(|kept| aside_bytes(&kept.entry)).sum();
    assert_eq!(size, AsideSize { entries: 2, bytes });
    let subject = all[0].entry.entry.subject.id;
    assert_eq!(tx.kept_aside_about(subject).await.unwrap(), all[2..]);
}

pub async fn what_was_forgotten_can_be_kept_again<S: Store>(store: S) {
    let all = three();
    keep(&store, &all).await;
    let ids = [id(&all[0]), id(&all[2])];
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.drop_aside(&ids[..1]).await.unwrap();
    tx.forget_aside(&ids).await.unwrap();
    assert!(tx.aside(&ids).await.unwrap().is_empty());
    tx.commit().await.unwrap();
    keep(&store, &all[..1]).await;
    assert_eq!(kept(&store).await, [all[1].clone(), all[0].clone()]);
}
