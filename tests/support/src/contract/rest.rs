//! Tests of blobs, devices and codes.

use server_core::store::{
    BlobHash, BlobRow, BlobTx, DeviceRow, JoinCodeRow, LogTx, MemberTx, SecretDigest, Store, StoreTx,
    TokenRow, TxMode,
};
use shared::log::body::Role;
use shared::log::{DeviceId, UnixMs};

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
    assert_eq!(tx.blob_bytes().await.unwrap(), 30);
    tx.remove_blob(&one).await.unwrap();
    tx.remove_blob(&three).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    assert_eq!(
        (tx.blob_count().await.unwrap(), tx.blob(&one).await.unwrap()),
        (1, None)
    );
}

fn device(number: u32, letters: &str) -> DeviceRow {
    DeviceRow {
        id: Pen::new(number).device,
        name: "Ünder the bench".to_owned(),
        letters: letters.to_owned(),
        joined: UnixMs(number.into()),
        revoked: None,
        seen: UnixMs(0),
        seq: 0,
        app: None,
        role: Role::Repairer,
    }
}

pub async fn devices_are_replaced<S: Store>(store: S) {
    let (one, two) = (device(1, "A"), device(2, "B"));
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.put_device(&two).await.unwrap();
    tx.put_device(&one).await.unwrap();
    let seen = DeviceRow {
        seen: UnixMs(9),
        seq: 12,
        revoked: Some(UnixMs(8)),
        app: Some("0.2.0".to_owned()),
        role: Role::Helper,
        ..one.clone()
    };
    tx.put_device(&seen).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    assert_eq!(tx.devices().await.unwrap(), [seen.clone(), two]);
    assert_eq!(tx.device(one.id).await.unwrap(), Some(seen));
    assert_eq!(tx.device(Pen::new(3).device).await.unwrap(), None);
}

pub async fn tokens_are_replaced_and_found_by_their_device<S: Store>(store: S) {
    let (one, two) = (device(1, "A"), device(2, "B"));
    let digest = |byte| SecretDigest([byte; 32]);
    let row = |device: &DeviceRow, given| TokenRow {
        device: device.id,
        given: UnixMs(given),
        seen: None,
        revoked: None,
    };
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.put_device(&two).await.unwrap();
    tx.put_device(&one).await.unwrap();
    tx.put_token(&digest(1), &row(&one, 3)).await.unwrap();
    tx.put_token(&digest(2), &row(&two, 4)).await.unwrap();
    tx.put_token(&digest(3), &row(&one, 6)).await.unwrap();
    let revoked = TokenRow {
        seen: Some(UnixMs(4)),
        revoked: Some(UnixMs(5)),
        ..row(&one, 3)
    };
    tx.put_token(&digest(1), &revoked).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    assert_eq!(tx.token(&digest(1)).await.unwrap(), Some(revoked));
    assert_eq!(tx.token(&digest(2)).await.unwrap(), Some(row(&two, 4)));
    assert_eq!(tx.token(&digest(4)).await.unwrap(), None);
    let mut own = tx.tokens_of(one.id).await.unwrap();
    own.sort_by_key(|(hash, _)| hash.0);
    assert_eq!(own, [(digest(1), revoked), (digest(3), row(&one, 6))]);
    assert!(tx.tokens_of(Pen::new(3).device).await.unwrap().is_empty());
    assert_eq!(tx.revoked_tokens().await.unwrap(), [(digest(1), UnixMs(5))]);
}

fn code(expires: i64, minted_by: Option<DeviceId>) -> JoinCodeRow {
    JoinCodeRow {
        expires: UnixMs(expires),
        used: false,
        used_by: None,
        minted_by,
        role: Role::Helper,
    }
}

pub async fn join_codes_are_replaced_and_forgotten<S: Store>(store: S) {
    let [old, new] = [SecretDigest([1; 32]), SecretDigest([2; 32])];
    let used = JoinCodeRow {
        used: true,
        used_by: Some(Pen::new(2).device),
        role: Role::from("role_of_2031"),
        ..code(20, Some(Pen::new(1).device))
    };
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    tx.put_join_code(&old, &code(10, None)).await.unwrap();
    tx.put_join_code(&new, &code(20, None)).await.unwrap();
    tx.put_join_code(&new, &used).await.unwrap();
    tx.forget_join_codes(UnixMs(20)).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    assert_eq!(tx.join_code(&old).await.unwrap(), None);
    assert_eq!(tx.join_code(&new).await.unwrap(), Some(used));
}

pub async fn join_codes_of_a_device_are_voided<S: Store>(store: S) {
    let hashes = [1, 2, 3, 4].map(|byte| SecretDigest([byte; 32]));
    let [one, two] = [1, 2].map(|number| Pen::new(number).device);
    let used = JoinCodeRow {
        used: true,
        used_by: Some(two),
        ..code(10, Some(one))
    };
    let rows = [code(10, Some(one)), used, code(10, Some(two)), code(10, None)];
    let mut tx = store.begin(TxMode::Write).await.unwrap();
    for (hash, row) in hashes.iter().zip(&rows) {
        tx.put_join_code(hash, row).await.unwrap();
    }
    tx.void_join_codes(one).await.unwrap();
    tx.commit().await.unwrap();
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    let mut left = Vec::new();
    for hash in &hashes {
        left.push(tx.join_code(hash).await.unwrap());
    }
    let [_, _, others, printed] = rows;
    assert_eq!(left, [None, None, Some(others), Some(printed)]);
}

pub async fn a_write_on_trial_changes_nothing<S: Store>(store: S) {
    let before = store.begin(TxMode::Read).await.unwrap().counter().await.unwrap();
    for _ in 0..3 {
        store.try_write().await.unwrap();
    }
    let after = store.begin(TxMode::Read).await.unwrap().counter().await.unwrap();
    assert_eq!(after, before);
}
