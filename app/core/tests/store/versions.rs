//! Other events of a store: joining and being revoked, apps of other versions, two tabs.

use crate::common::*;
use app_core::store::kv::{KvTx, Mode, Row};
use app_core::store::memory::{Memory, now};
use app_core::store::scripted::Scripted;
use app_core::store::{KvStore, StoreError, kv::Kv, tables};
use shared::log::Draft;
use shared::log::body::{Body, field};
use shared::sync::Code;
use shared::sync::machine::{BlobSettled, Progress};
use uuid::Uuid;

#[test]
fn alone_joined_shut_out_and_joined_again_loses_nothing() {
    let device = Device::new(1);
    let shop = now(device.store.shop_subject()).unwrap();
    device.save(vec![Draft::new(shop, detail(field::NAME, "The Last Stand"))]);
    taken_in(&device);
    let id = device.store.device();
    let answer = |token: &str, letters: &str| join_answer(5, token, letters);
    now(device
        .store
        .set_join(&answer("one", "A"), "https://shop.example", "Bench"))
    .unwrap();
    let name = || {
        now(device.store.shop_state())
            .unwrap()
            .name()
            .unwrap_or_default()
            .to_owned()
    };
    assert_eq!(
        name(),
        "The Last Stand",
        "what was written alone is the joined shop's"
    );
    assert_eq!(now(device.store.shop_subject()).unwrap().id.0, Uuid::from_u128(5));
    let waiting = unsent(&device).len();
    now(device.store.shut_out(problem(Code::TokenRevoked))).unwrap();
    let membership = now(device.store.membership()).unwrap();
    assert!(!membership.joined() && membership.shut_out.is_some());
    taken_in(&device);
    now(device
        .store
        .set_join(&answer("two", "B"), "https://new.example", "Bench"))
    .unwrap();
    assert_eq!((unsent(&device).len(), device.store.device()), (waiting + 8, id));
    let tags = now(device
        .store
        .save(drop_off(&taken(&device), "C. Example", "boot"), Vec::new()))
    .unwrap()
    .tags;
    assert_eq!(tags, ["B3"], "the running number goes on");
}

/// Opens the store as an app with this version of the layout does.
fn open_as(kv: &Memory, app: u32) -> KvStore<Memory, Scripted> {
    now(KvStore::open_as(kv.clone(), Scripted::new(3, MORNING), app)).unwrap()
}

/// Adds a field of a newer app to every row that is not derived from others.
fn add_fields(kv: &Memory) {
    for table in [tables::META, tables::TAIL, tables::BLOB_INFO] {
        for mut row in kv.rows(table) {
            let mut value: serde_json::Value = serde_json::from_str(row.as_text().unwrap()).unwrap();
            value["later"] = serde_json::json!(["kept", 1.5]);
            row.value = app_core::store::kv::RowValue::Text(value.to_string());
            kv.plant(table, row);
        }
    }
}

#[test]
fn an_older_app_keeps_the_fields_and_rows_of_a_newer_one() {
    let device = Device::new(1);
    let taken = taken_in(&device);
    let (draft, blobs) = photo(&taken.job, "picture");
    let hash = blobs[0].about.sha256.clone();
    now(device.store.save(vec![draft], blobs)).unwrap();
    add_fields(&device.kv);
    let strange = Row::text("zzz-later", "not even JSON");
    device.kv.plant(tables::TAIL, strange.clone());
    device
        .kv
        .plant(tables::META, Row::text("later", "of a newer app"));
    // All operations that rewrite rows.
    acknowledge(&device, MORNING);
    device.save(vec![step(&taken.job, "half_sole")]);
    now(device.store.settle_blobs(&[(hash.clone(), BlobSettled::Stored)])).unwrap();
    now(device
        .store
        .set_join(&join_answer(5, "t", "A"), "https://shop.example", "Bench"))
    .unwrap();
    let later = |table, key: &str| {
        let rows = device.kv.rows(table);
        let row = rows.iter().find(|row| row.key == key).unwrap();
        let value: serde_json::Value = serde_json::from_str(row.as_text().unwrap()).unwrap();
        value["later"] == serde_json::json!(["kept", 1.5])
    };
    assert!(later(tables::BLOB_INFO, &hash));
    assert!(later(tables::META, "state") && later(tables::META, "device") && later(tables::META, "format"));
    let about = now(device.store.entries_about(taken.job.id)).unwrap();
    let acknowledged = about.iter().find(|held| held.received.is_some()).unwrap();
    assert!(later(tables::TAIL, &acknowledged.entry.id.to_string()));
    assert!(device.kv.rows(tables::TAIL).contains(&strange));
    assert!(device.kv.rows(tables::META).iter().any(|row| row.key == "later"));
}

#[test]
fn an_app_that_is_too_old_reads_and_backs_up_but_does_not_write() {
    let device = Device::new(1);
    let taken = taken_in(&device);
    let tx = now(device.kv.begin(&[tables::META], Mode::Write)).unwrap();
    tx.put(
        tables::META,
        Row::text("format", r#"{"version":9,"oldest_app":8}"#),
    );
    now(tx.commit()).unwrap();
    let older = open_as(&device.kv, 7);
    let commits = device.kv.commits();
    assert_eq!(now(older.in_shop()).unwrap().len(), 1);
    let refused = now(older.save(vec![step(&taken.job, "stretch")], Vec::new()));
    assert_eq!(refused, Err(StoreError::NewerApp));
    assert_eq!(device.kv.commits(), commits);
    let newer = open_as(&device.kv, 8);
    now(newer.save(vec![step(&taken.job, "stretch")], Vec::new())).unwrap();
    assert_eq!(newer.device(), device.store.device());
}

#[test]
fn kinds_of_a_newer_app_survive_byte_for_byte() {
    let device = Device::new(1);
    let body = "{\"late\" : [1, 2.50, \"\\u00e9\"],  \"odd\":null}";
    let held_here = now(device.store.save_raw(taken(&device).pair, "inspected", 3, body)).unwrap();
    assert_eq!(held(&device.kv)[0].entry.body, body);
    assert_eq!(unsent(&device), std::slice::from_ref(&held_here));
    let other = Device::new(2);
    let mut arrived = held_here;
    arrived.received = Some(MORNING);
    now(other.store.apply(vec![arrived.clone()], Progress::default())).unwrap();
    assert_eq!(held(&other.kv), [arrived.clone()]);

    let mut forged = arrived.clone();
    forged.entry.body = "{}".into();
    let conflicts = now(other.store.apply(vec![forged], Progress::default())).unwrap();
    assert_eq!(conflicts, [arrived.entry.id]);
    assert_eq!(held(&other.kv), [arrived], "the first copy stands");
}

#[test]
fn two_tabs_never_allot_the_same_number() {
    let device = Device::new(1);
    let tab = now(Store::open(device.kv.clone(), device.around.clone())).unwrap();
    let saves = (0..20).map(|number| {
        let store = if number % 2 == 0 { &device.store } else { &tab };
        store.save(drop_off(&taken(&device), "A. Example", "derby"), Vec::new())
    });
    let saved = app_core::store::memory::in_time(futures_util::future::join_all(saves));
    let tags: std::collections::BTreeSet<_> = saved.into_iter().map(|saved| saved.unwrap().tags).collect();
    assert_eq!(tags.len(), 20);
    // The other tab finds what one tab saves.
    assert_eq!(now(tab.find("derby")).unwrap().len(), 20);
    device.save(vec![Draft::new(
        taken(&device).pair,
        Body::Opened(shared::log::body::Opened::default()),
    )]);
    assert_eq!(now(tab.find("")).unwrap().len(), 21);
}
