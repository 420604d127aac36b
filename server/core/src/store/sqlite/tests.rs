//! The digests of rows: what they cover, rows of earlier versions, and what becomes of damaged rows.

use std::collections::BTreeSet;

use shared::log::body::Role;
use shared::log::{DeviceId, EntryId, ReceivedEntry, UnixMs};
use shared::sync::messages::KeptAside;
use sqlx::{AssertSqlSafe, Connection, SqliteConnection};
use tempfile::TempDir;
use uuid::Uuid;

use super::digest::tests::sample;
use super::row_digest::{ColumnValue, DEVICES, FEED, TABLES, TOKENS};
use super::rows::{COLUMNS, PUSHED};
use super::{MIGRATIONS, SqliteStore, SqliteTx};
use crate::store::{
    AsideRow, AsideTx, Budget, CheckTx, DamagedDevice, DeviceRow, JoinCodeRow, LogTx, MemberTx, NewEntry,
    Numbered, PushedBy, RepairTx, SecretDigest, Store, StoreTx, TokenRow, TxMode,
};

const HASH: SecretDigest = SecretDigest([7; 32]);
const PLENTY: Budget = Budget {
    rows: 100,
    bytes: 1 << 20,
};

async fn open(folder: &TempDir) -> SqliteStore {
    let file = folder.path().join("waxend.db");
    SqliteStore::open(&file, Uuid::from_u128(1), Uuid::from_u128(2))
        .await
        .unwrap()
}

async fn fresh() -> (TempDir, SqliteStore) {
    let folder = tempfile::tempdir().unwrap();
    let store = open(&folder).await;
    (folder, store)
}

async fn write(store: &SqliteStore) -> SqliteTx {
    store.begin(TxMode::Write).await.unwrap()
}

async fn damage(store: &SqliteStore, sql: &str) {
    let done = sqlx::query(AssertSqlSafe(sql.to_owned()))
        .execute(&store.writer)
        .await;
    assert!(done.unwrap().rows_affected() > 0, "{sql}");
}

/// The fault of one row in each of these tables.
fn told(tables: &[&str]) -> Vec<String> {
    let told = |table: &&str| format!("rows of {table} that are not as they were stored: 1");
    tables.iter().map(told).collect()
}

fn device(number: u128) -> DeviceRow {
    DeviceRow {
        id: DeviceId(Uuid::from_u128(number)),
        name: "Ünder the bench".to_owned(),
        letters: number.to_string(),
        joined: UnixMs(2),
        revoked: None,
        seen: UnixMs(3),
        seq: 4,
        app: None,
        role: Role::Repairer,
    }
}

fn token(device: &DeviceRow, revoked: Option<UnixMs>) -> TokenRow {
    TokenRow {
        device: device.id,
        given: UnixMs(5),
        seen: None,
        revoked,
    }
}

fn join_code() -> JoinCodeRow {
    JoinCodeRow {
        expires: UnixMs(6),
        used: true,
        used_by: Some(device(1).id),
        minted_by: None,
        role: Role::Helper,
    }
}

fn kept() -> KeptAside {
    KeptAside {
        entry: ReceivedEntry::unsent(sample().held.entry),
        device: device(1).id,
        arrived: UnixMs(7),
    }
}

/// Adds a device, its token, and a join code.
async fn put_members(store: &SqliteStore) {
    let mut tx = write(store).await;
    tx.put_device(&device(1)).await.unwrap();
    tx.put_token(&HASH, &token(&device(1), None)).await.unwrap();
    tx.put_join_code(&HASH, &join_code()).await.unwrap();
    tx.commit().await.unwrap();
}

#[tokio::test]
async fn every_column_is_in_a_digest() {
    let mut database = SqliteConnection::connect("sqlite::memory:").await.unwrap();
    MIGRATIONS.run(&mut database).await.unwrap();
    let entries = [COLUMNS, PUSHED, "sha256"].join(", ").replace("e.", "");
    let tables = TABLES
        .iter()
        .map(|table| (table.name, [table.columns, "digest"].join(", ")))
        .chain([("entries", entries)]);
    for (table, columns) in tables {
        let mut hashed: Vec<&str> = columns.split(", ").collect();
        hashed.sort_unstable();
        let there: Vec<String> = sqlx::query_scalar("SELECT name FROM pragma_table_info($1) ORDER BY name")
            .bind(table)
            .fetch_all(&mut database)
            .await
            .unwrap();
        assert_eq!(there, hashed, "{table}");
    }
}

/// Computed once with Python's `hashlib` from the layout that `DigestedTable::digest` describes.
#[test]
fn what_is_hashed_of_a_row_never_changes() {
    let [one, two] = [1, 2].map(Uuid::from_u128);
    let feed = [ColumnValue::Integer(1), (&two).into(), ColumnValue::Integer(3)];
    assert_eq!(
        hex::encode(FEED.digest(&feed)),
        "9c8b8c8c7ce3b4ec7ac9f5b832cd2edede751b65ff61531dd161b4afcf1239b3"
    );
    let device = [
        (&one).into(),
        ColumnValue::Text("Ünder the bench"),
        ColumnValue::Text("A"),
        ColumnValue::Integer(2),
        ColumnValue::Null,
        ColumnValue::Integer(3),
        ColumnValue::Integer(4),
        ColumnValue::Null,
        ColumnValue::Text("repairer"),
    ];
    assert_eq!(
        hex::encode(DEVICES.digest(&device)),
        "39d3b9e9042725d1516e2e68c211dbe226e782506c9d4b94f2ab0802d09c0743"
    );
}

#[test]
fn no_two_rows_have_one_digest_unless_only_nulls_are_added_at_the_end() {
    let text = ColumnValue::Text;
    let rows = [
        [text("ab"), text("c")],
        [text("a"), text("bc")],
        [text(""), text("abc")],
        [ColumnValue::Blob(b"ab"), text("c")],
        [ColumnValue::Null, text("c")],
        [ColumnValue::Integer(0), text("c")],
        [text("c"), ColumnValue::Null],
        [text("c"), text("")],
        [ColumnValue::Null, ColumnValue::Null],
    ];
    let mut seen = BTreeSet::new();
    for row in &rows {
        for table in [&FEED, &TOKENS] {
            assert!(seen.insert(table.digest(row)), "{row:?}");
        }
        let longer = [row[0], row[1], ColumnValue::Null];
        assert_eq!(FEED.digest(&longer), FEED.digest(row));
    }
}

#[tokio::test]
async fn rows_of_earlier_versions_get_their_digests_once() {
    let (folder, store) = fresh().await;
    put_members(&store).await;
    let number = |seq: u64| Numbered {
        seq,
        mark: Uuid::from_u128(seq.into()),
        entry: 1,
    };
    let mut tx = write(&store).await;
    tx.keep_aside(&[kept()]).await.unwrap();
    tx.number(&(1..=2_500).map(number).collect::<Vec<_>>())
        .await
        .unwrap();
    tx.commit().await.unwrap();
    assert_eq!(store.faults().await.unwrap(), Vec::<String>::new());
    for table in &TABLES {
        damage(&store, &format!("UPDATE {} SET digest = NULL", table.name)).await;
    }
    assert_eq!(store.faults().await.unwrap().len(), TABLES.len());
    store.close().await;

    let store = open(&folder).await;
    assert_eq!(store.faults().await.unwrap(), Vec::<String>::new());
    damage(&store, "UPDATE tokens SET digest = NULL").await;
    damage(&store, "UPDATE feed SET digest = NULL WHERE seq = 2000").await;
    store.close().await;
    let faults = open(&folder).await.faults().await.unwrap();
    assert_eq!(faults, told(&["tokens", "feed"]));
}

#[tokio::test]
async fn a_damaged_device_token_or_code_counts_for_nothing_and_is_replaced() {
    let (_folder, store) = fresh().await;
    put_members(&store).await;
    damage(&store, "UPDATE devices SET role = 'helper'").await;
    damage(&store, "UPDATE tokens SET revoked = 5").await;
    damage(&store, "UPDATE join_codes SET used = 0").await;
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    assert_eq!(tx.device(device(1).id).await.unwrap(), None);
    assert_eq!(tx.devices().await.unwrap(), []);
    assert_eq!(tx.token(&HASH).await.unwrap(), None);
    assert_eq!(tx.tokens_of(device(1).id).await.unwrap(), []);
    assert_eq!(tx.revoked_tokens().await.unwrap(), []);
    assert_eq!(tx.join_code(&HASH).await.unwrap(), None);
    drop(tx);
    let faults = store.faults().await.unwrap();
    assert_eq!(faults, told(&["devices", "tokens", "join_codes"]));
    put_members(&store).await;
    assert_eq!(store.faults().await.unwrap(), Vec::<String>::new());
    let mut tx = store.begin(TxMode::Read).await.unwrap();
    assert_eq!(tx.devices().await.unwrap(), [device(1)]);
}

#[tokio::test]
async fn an_entry_that_is_kept_aside_and_damaged_is_left_out_and_replaced() {
    let (_folder, store) = fresh().await;
    let id: EntryId = kept().entry.entry.id;
    let mut tx = write(&store).await;
    tx.keep_aside(&[kept()]).await.unwrap();
    tx.commit().await.unwrap();
    damage(&store, "UPDATE kept_aside SET arrived = 8").await;
    let mut tx = write(&store).await;
    assert!(tx.aside(&[id]).await.unwrap().is_empty());
    assert_eq!(tx.kept_aside(PLENTY).await.unwrap().rows, []);
    let about = tx.kept_aside_about(sample().subject().id).await.unwrap();
    assert_eq!(about.len(), 1, "an erasure finds it");
    tx.drop_aside(&[id]).await.unwrap();
    assert_eq!(tx.aside_size().await.unwrap().entries, 0, "its content is gone");
    tx.commit().await.unwrap();
    assert_eq!(store.faults().await.unwrap(), told(&["kept_aside"]));
    let mut tx = write(&store).await;
    tx.keep_aside(&[kept()]).await.unwrap();
    let noted = tx.aside(&[id]).await.unwrap();
    assert_eq!(noted[&id], AsideRow::Kept(Box::new(kept())));
    tx.drop_aside(&[id]).await.unwrap();
    assert_eq!(tx.aside(&[id]).await.unwrap()[&id], AsideRow::Dropped);
    tx.commit().await.unwrap();
    assert_eq!(store.faults().await.unwrap(), Vec::<String>::new());
}

#[tokio::test]
async fn a_changed_entry_or_counter_stays_damaged_if_it_was() {
    for damages in [false, true] {
        let (_folder, store) = fresh().await;
        let entry = NewEntry {
            stored: sample(),
            about: Vec::new(),
            named: Vec::new(),
        };
        let pushed_by = PushedBy {
            device: Some(device(1).id),
            at: UnixMs(8),
        };
        let mut tx = write(&store).await;
        tx.insert(std::slice::from_ref(&entry), pushed_by).await.unwrap();
        tx.commit().await.unwrap();
        if damages {
            damage(&store, "UPDATE entries SET arrived = 9").await;
            damage(&store, "UPDATE counter SET letters_given = 9").await;
        }
        let mut tx = write(&store).await;
        let seq = sample().seq;
        tx.lower(seq, UnixMs(1)).await.unwrap();
        tx.blank(&sample()).await.unwrap();
        tx.fill(&entry).await.unwrap();
        tx.set_subject_seq(seq, 3).await.unwrap();
        let mut counter = tx.counter().await.unwrap();
        counter.seq = 20;
        tx.set_counter(&counter).await.unwrap();
        tx.commit().await.unwrap();
        let mut tx = store.begin(TxMode::Read).await.unwrap();
        assert_eq!(tx.counter().await.unwrap(), counter);
        let checked = tx.entries_after(0, PLENTY).await.unwrap().rows;
        assert_eq!(checked[0].intact.is_none(), damages);
        let damaged: &[&str] = if damages { &["counter"] } else { &[] };
        assert_eq!(store.faults().await.unwrap(), told(damaged));
    }
}

#[tokio::test]
async fn of_damaged_devices_only_one_that_was_shut_out_keeps_its_revoked_tokens() {
    let (_folder, store) = fresh().await;
    let stolen = DeviceRow {
        revoked: Some(UnixMs(9)),
        ..device(2)
    };
    let hash = |byte| SecretDigest([byte; 32]);
    let mut tx = write(&store).await;
    for (device, first) in [(device(1), 10), (stolen, 20)] {
        tx.put_device(&device).await.unwrap();
        for (byte, revoked) in [(first, None), (first + 1, Some(UnixMs(9)))] {
            let token = token(&device, revoked);
            tx.put_token(&hash(byte), &token).await.unwrap();
        }
    }
    tx.commit().await.unwrap();
    damage(&store, "UPDATE devices SET name = CAST(x'4dff' AS TEXT)").await;
    let mut tx = write(&store).await;
    let damaged = tx.mend_rows().await.unwrap();
    let closed = [1, 2].map(|number| DamagedDevice {
        id: device(number).id,
        name: "M\u{fffd}".to_owned(),
    });
    assert_eq!(damaged.devices, closed);
    assert_eq!(tx.tokens_of(device(1).id).await.unwrap(), []);
    let left = tx.tokens_of(device(2).id).await.unwrap();
    assert_eq!(left, [(hash(21), token(&device(2), Some(UnixMs(9))))]);
}
