//! Runs the suite of the store's database in a real browser, and cases that only a browser can show. The page runs the
//! case that its address names after `#`, and writes the results as JSON lines.

use js_sys::Reflect;
use shared::log::body::{Agreed, Blob, Body, Opened, Photo, Shows};
use shared::log::{Subject, SubjectKind};
use shared::price::minor::Minor;
use shared::sync::machine::Progress;
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::spawn_local;
use web_sys::{IdbDatabase, IdbFactory};

use app_core::browser::js::property;
use app_core::browser::{BrowserDevice, window};
use app_core::store::contract::{self, Verdict};
use app_core::store::idb::{Idb, IdbTx, first_event};
use app_core::store::kv::{Kv, KvError, KvTx, Mode, Row, RowValue};
use app_core::store::sample::{self, SampleStay};
use app_core::store::tables::{BLOBS, META};
use app_core::store::{KvStore, NewBlob, Surroundings};
use shared::log::Draft;

/// Begins when the page has loaded.
#[wasm_bindgen(start)]
pub fn start() {
    console_error_panic_hook::set_once();
    spawn_local(async {
        let asked = window().location().hash().unwrap_or_default();
        match asked.trim_start_matches('#').split_once('=') {
            Some(("fill", megabytes)) => tell("fill", &fill(megabytes.parse().unwrap_or(64)).await),
            Some(("history", pairs)) => history(pairs.parse().unwrap_or(100)).await,
            _ => everything().await,
        }
        tell("done", &Ok(()));
    });
}

async fn everything() {
    for (case, verdict) in contract::run(|case| Idb::new(&name(case))).await {
        tell(case, &verdict);
    }
    tell(
        "a_newer_app_is_made_way_for",
        &a_newer_app_is_made_way_for().await,
    );
    tell(
        "another_tab_in_the_way_is_told",
        &another_tab_in_the_way_is_told().await,
    );
    tell(
        "a_cut_connection_is_opened_again",
        &a_cut_connection_is_opened_again().await,
    );
    tell("photographs_are_flushed", &photographs_are_flushed().await);
    tell(
        "a_photograph_outlives_the_page",
        &a_photograph_outlives_the_page().await,
    );
}

/// The name of a new database that nothing else uses.
fn name(case: &str) -> String {
    format!("{case}-{}", BrowserDevice.uuid_v4())
}

/// Adds a line to the page.
fn tell(case: &str, verdict: &Verdict) {
    let text = match verdict {
        Ok(()) => String::new(),
        Err(wrong) => wrong.clone(),
    };
    report(&serde_json::json!({ "case": case, "wrong": text }).to_string());
}

fn report(line: &str) {
    let Some(page) = window().document() else {
        return;
    };
    if let (Some(body), Ok(item)) = (page.body(), page.create_element("pre")) {
        item.set_text_content(Some(line));
        drop(body.append_child(&item));
    }
}

fn words(error: impl std::fmt::Display) -> String {
    error.to_string()
}

#[expect(
    clippy::needless_pass_by_value,
    reason = "a check reads best with its values in place"
)]
fn agree<T: PartialEq + std::fmt::Debug>(found: T, wanted: T) -> Verdict {
    if found == wanted {
        Ok(())
    } else {
        Err(format!("{found:?} is not {wanted:?}"))
    }
}

async fn put(kv: &Idb, key: &str) -> Result<(), KvError> {
    let tx = kv.begin(&[META], Mode::Write).await?;
    tx.put(META, Row::text(key, "x"));
    tx.commit().await
}

async fn count(kv: &Idb) -> Result<u64, KvError> {
    kv.begin(&[META], Mode::Read).await?.count(META).await
}

/// Opens the database as another app would, which does not close its connection for an upgrade.
async fn open_raw(name: &str, version: u32) -> Result<IdbDatabase, String> {
    let factory: IdbFactory = property(&js_sys::global(), "indexedDB")
        .ok_or("no IndexedDB")?
        .unchecked_into();
    let request = factory.open_with_u32(name, version).map_err(|_| "not opened")?;
    let event = first_event(&request).await.map_err(|_| "not opened")?;
    agree(event.type_(), "success".to_owned())?;
    request
        .result()
        .map(JsCast::unchecked_into)
        .map_err(|_| "no result".to_owned())
}

async fn a_newer_app_is_made_way_for() -> Verdict {
    let name = name("way");
    let kv = Idb::new(&name);
    put(&kv, "before").await.map_err(words)?;
    agree(kv.made_way(), false)?;
    let newer = open_raw(&name, 99).await?;
    agree(kv.made_way(), true)?;
    // A newer app only adds to the tables, so they still serve this one.
    put(&kv, "after").await.map_err(words)?;
    agree(count(&kv).await, Ok(2))?;
    newer.close();
    Ok(())
}

async fn another_tab_in_the_way_is_told() -> Verdict {
    let name = name("blocked");
    let older = open_raw(&name, 1).await?;
    let kv = Idb::of_version(&name, 2);
    agree(put(&kv, "a").await, Err(KvError::Blocked))?;
    older.close();
    put(&kv, "a").await.map_err(words)?;
    agree(count(&kv).await, Ok(1))
}

async fn a_cut_connection_is_opened_again() -> Verdict {
    let kv = Idb::new(&name("cut"));
    put(&kv, "a").await.map_err(words)?;
    // What a phone does while the app is in the background: it closes the connection without an event.
    kv.database().await.map_err(words)?.close();
    put(&kv, "b").await.map_err(words)?;
    agree(count(&kv).await, Ok(2))
}

async fn photographs_are_flushed() -> Verdict {
    let kv = Idb::new(&name("strict"));
    let durability = |tx: &IdbTx| {
        Reflect::get(tx.native(), &JsValue::from_str("durability"))
            .ok()
            .and_then(|word| word.as_string())
    };
    let strict = kv.begin(&[META], Mode::WriteStrict).await.map_err(words)?;
    // Without support for durability options, a browser flushes every transaction.
    agree(durability(&strict).is_none_or(|word| word == "strict"), true)
}

async fn a_photograph_outlives_the_page() -> Verdict {
    let kv = Idb::new(&name("store"));
    let store = KvStore::open(kv.clone(), BrowserDevice).await.map_err(words)?;
    let bytes = vec![7; 200_000];
    let sha256 = "07".repeat(32);
    let about = |bytes: u64, sha256: String| Blob {
        sha256,
        media_type: "image/jpeg".into(),
        bytes,
        width: 1,
        height: 1,
    };
    let (full, thumb) = (about(200_000, sha256.clone()), about(1, "08".repeat(32)));
    let job = Subject::new(SubjectKind::Job, BrowserDevice.new_subject());
    let opened = Opened {
        pair: Some(BrowserDevice.new_subject()),
        ..Opened::default()
    };
    let agreed = Agreed::at("half_sole", Minor(1));
    let photo = Photo::new(full.clone(), thumb.clone(), Shows::DropOff);
    let bodies = [Body::Opened(opened), Body::Agreed(agreed), Body::Photo(photo)];
    let drafts = bodies.map(|body| Draft::new(job.clone(), body)).to_vec();
    let blobs = vec![
        NewBlob {
            about: full,
            bytes: bytes.clone(),
        },
        NewBlob {
            about: thumb,
            bytes: vec![1],
        },
    ];
    store.save(drafts, blobs).await.map_err(words)?;
    let again = KvStore::open(kv, BrowserDevice).await.map_err(words)?;
    agree(again.device(), store.device())?;
    agree(again.blob(&sha256).await, Ok(Some(bytes)))?;
    let shop = again.in_shop().await.map_err(words)?;
    agree(
        shop.iter().map(|pair| pair.jobs[0].photos).collect::<Vec<_>>(),
        vec![1],
    )
}

/// Writes until storage is full; the database must then report it and go on working.
async fn fill(megabytes: u32) -> Verdict {
    let kv = Idb::new(&name("full"));
    let mut full = None;
    for number in 0..megabytes {
        let tx = kv.begin(&[BLOBS], Mode::WriteStrict).await.map_err(words)?;
        let noise =
            (0..1_000_000_u32).map(|n| n.wrapping_mul(2_654_435_761).wrapping_add(number).to_be_bytes()[1]);
        let value = RowValue::Bytes(noise.collect());
        tx.put(
            BLOBS,
            Row {
                key: number.to_string(),
                indexed: Vec::new(),
                value,
            },
        );
        if let Err(error) = tx.commit().await {
            full = Some((number, error));
            break;
        }
    }
    let (number, error) = full.ok_or("it never filled up")?;
    agree(error, KvError::Full)?;
    let kept = kv
        .begin(&[BLOBS], Mode::Read)
        .await
        .map_err(words)?
        .count(BLOBS)
        .await;
    agree(kept, Ok(u64::from(number)))
}

/// Applies the history of a shop and reports how long each step took, in ms.
async fn history(pairs: u64) {
    let kv = Idb::new(&name("history"));
    let Ok(store) = KvStore::open(kv.clone(), BrowserDevice).await else {
        return;
    };
    let began = js_sys::Date::now();
    let mut page = Vec::new();
    let mut bytes = 0;
    let mut making = 0.0;
    for number in (0..pairs).rev() {
        let start = js_sys::Date::now();
        let stay = if number + 500 < pairs {
            SampleStay::Over
        } else {
            SampleStay::InShop
        };
        let entries = sample::pair(number, stay);
        bytes += entries
            .iter()
            .map(|held| held.entry.body.len() + 420)
            .sum::<usize>();
        page.extend(entries);
        making += js_sys::Date::now() - start;
        if bytes > 1_000_000 || number == 0 {
            bytes = 0;
            if let Err(error) = store.apply(std::mem::take(&mut page), Progress::default()).await {
                tell("history", &Err(error.to_string()));
            }
        }
    }
    let absorbed = js_sys::Date::now() - began - making;
    let measured = |what: &str, ms: f64| report(&serde_json::json!({ "figure": what, "ms": ms }).to_string());
    measured("absorbed", absorbed);
    let start = js_sys::Date::now();
    let opened = KvStore::open(kv, BrowserDevice).await;
    let Ok(store) = opened else { return };
    let open = store.in_shop().await.map_or(0, |shop| shop.len());
    measured(
        &format!("opened with {open} in the shop"),
        js_sys::Date::now() - start,
    );
    for words in ["oxblood", "customer 1234 derby", "0555 000777"] {
        let start = js_sys::Date::now();
        let hits = store.find(words).await.map_or(0, |hits| hits.len());
        measured(&format!("search {words}: {hits}"), js_sys::Date::now() - start);
    }
}
