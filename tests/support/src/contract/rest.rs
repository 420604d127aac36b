//! Tests of blobs, devices and codes.

use server_core::store::{
    BlobHash, BlobRow, BlobTx, DeviceRow, JoinCodeRow, LogTx, MemberTx, SecretDigest, Store, StoreTx, TxMode,
};
use shared::log::UnixMs;

use crate::sample::Pen;

pub async fn blobs_come_and_go<S: Store>(store: S) {
    let [one, two, three] = [1, 2, 3].map(|byte| BlobHash([byte; 32]));
    let row = |hash, bytes| BlobRow {
        hash,
        media_type: "image/jpeg".to_owned(),
        bytes,
    };
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.add_blob(&row(two, 20)).await.unwrap();
    tx.add_blob(&row(one, 10)).await.unwrap();
    tx.add_blob(&row(one, 99)).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    assert_eq!(
        tx.blob(&one).await.unwrap(),
        Some(row(one, 10)),
        "the first row stays"
    );
    let here = tx.blobs(&[one, three]).await.unwrap();
    assert_eq!((here.len(), here[&one]), (1, 10));
    assert_eq!(tx.all_blobs().await.unwrap(), [row(one, 10), row(two, 20)]);
    tx.remove_blob(&one).await.unwrap();
    tx.remove_blob(&three).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    assert_eq!(
        (tx.blob_count().await.unwrap(), tx.blob(&one).await.unwrap()),
        (1, None)
    );
}

pub async fn devices_and_their_tokens<S: Store>(store: S) {
    let row = |number: u32, letters: &str| DeviceRow {
        id: Pen::new(number).device,
        name: "Ünder the bench".to_owned(),
        letters: letters.to_owned(),
        joined: UnixMs(number.into()),
        revoked: None,
        seen: UnixMs(0),
        seq: 0,
        app: None,
    };
    let (one, two) = (row(1, "A"), row(2, "B"));
    let digest = |byte| SecretDigest([byte; 32]);
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.put_device(&two).await.unwrap();
    tx.put_device(&one).await.unwrap();
    tx.add_token(&digest(1), one.id).await.unwrap();
    tx.add_token(&digest(2), two.id).await.unwrap();
    tx.revoke_tokens(one.id, UnixMs(5)).await.unwrap();
    tx.add_token(&digest(3), one.id).await.unwrap();
    let seen = DeviceRow {
        seen: UnixMs(9),
        seq: 12,
        revoked: Some(UnixMs(8)),
        app: Some("0.2.0".to_owned()),
        ..one.clone()
    };
    tx.put_device(&seen).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    assert_eq!(tx.devices().await.unwrap(), [seen.clone(), two]);
    assert_eq!(tx.device(one.id).await.unwrap(), Some(seen));
    assert_eq!(tx.device(Pen::new(3).device).await.unwrap(), None);
    let mut revoked = Vec::new();
    for byte in 1..=4 {
        revoked.push(
            tx.token(&digest(byte))
                .await
                .unwrap()
                .map(|row| (row.device, row.revoked)),
        );
    }
    assert_eq!(
        revoked,
        [
            Some((one.id, true)),
            Some((Pen::new(2).device, false)),
            Some((one.id, false)),
            None
        ]
    );
}

pub async fn join_codes_are_replaced_and_forgotten<S: Store>(store: S) {
    let [old, new] = [SecretDigest([1; 32]), SecretDigest([2; 32])];
    let row = |expires, used| JoinCodeRow {
        expires: UnixMs(expires),
        used,
    };
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.put_join_code(&old, &row(10, false)).await.unwrap();
    tx.put_join_code(&new, &row(20, false)).await.unwrap();
    tx.put_join_code(&new, &row(20, true)).await.unwrap();
    tx.forget_join_codes(UnixMs(20)).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    assert_eq!(tx.join_code(&old).await.unwrap(), None);
    assert_eq!(tx.join_code(&new).await.unwrap(), Some(row(20, true)));
}

pub async fn a_write_on_trial_changes_nothing<S: Store>(store: S) {
    let before = store.begin(TxMode::Read).await.unwrap().counter().await.unwrap();
    for _ in 0..3 {
        store.try_write().await.unwrap();
    }
    let after = store.begin(TxMode::Read).await.unwrap().counter().await.unwrap();
    assert_eq!(after, before);
}
