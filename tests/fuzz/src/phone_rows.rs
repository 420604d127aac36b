//! The rows of the phone's database, as another version of the app or a browser that lost half of a write may have left
//! them: every operation still answers, and a row that cannot be read stays as it is.

use app_core::store::kv::{Row, Table};
use app_core::store::memory::{Memory, now};
use app_core::store::{Scope, StoreError, tables};
use shared::log::Draft;
use shared::log::SubjectId;
use shared::log::body::{Body, Note};

use crate::phone::{self, Store};
use crate::{headed, text};

/// The phone's database without the changed row. It is made once; every input works on a copy.
fn lived_in() -> Memory {
    thread_local! {
        static BEFORE: Memory = phone::lived_in().0;
    }
    BEFORE.with(Memory::fork)
}

/// Tables whose rows are text.
const TEXT: [Table; 7] = [
    tables::META,
    tables::TAIL,
    tables::BLOCKS,
    tables::PAIRS,
    tables::SALES,
    tables::SEARCH,
    tables::BLOB_INFO,
];

/// The input: the name of a table and the number of a row on the first line, then the row's new text. A number beyond
/// the last row adds one.
pub(crate) fn rows(data: &[u8]) {
    let Some((head, value)) = headed(data) else { return };
    let mut words = head.split(' ');
    let Some(table) = TEXT
        .into_iter()
        .find(|table| Some(table.name) == words.clone().next())
    else {
        return;
    };
    words.next();
    let kv = lived_in();
    let number = words
        .next()
        .and_then(|word| word.parse::<usize>().ok())
        .unwrap_or_default();
    let row = match kv.rows(table).into_iter().nth(number) {
        Some(row) => Row {
            value: app_core::store::kv::RowValue::Text(value.to_owned()),
            ..row
        },
        None => Row::text(words.next().unwrap_or("zzz"), value),
    };
    kv.plant(table, row);
    match now(Store::open(
        kv.clone(),
        app_core::store::scripted::Scripted::new(11, phone::MORNING),
    )) {
        Ok(store) => use_all(&store),
        Err(error) => assert!(matches!(error, StoreError::Unreadable { .. }), "{error:?}"),
    }
    assert_eq!(kv.open_transactions(), 0);
}

/// Runs every operation that a screen or sync uses.
fn use_all(store: &Store) {
    let known = now(store.in_shop())
        .into_iter()
        .flatten()
        .map(|summary| summary.id);
    let found = now(store.find("")).into_iter().flatten();
    let pairs: Vec<SubjectId> = known.chain(found).take(4).collect();
    for pair in pairs {
        told(now(store.pair_history(pair)));
        told(now(store.history(pair)));
    }
    told(now(store.books(&["2026-03".to_owned()], 5)));
    told(now(store.sales(&["2026-03".to_owned()])));
    told(now(store.sold_lately()));
    told(now(store.due("", 5)));
    told(now(store.search("derby", 5)));
    told(now(store.search_logged("derby", 5)));
    told(now(store.search_sales("", 5)));
    told(now(store.shop_state()));
    told(now(store.counts()));
    told(now(store.refused()));
    told(now(store.erasures_waiting()));
    told(now(store.access()));
    told(now(store.parked()));
    told(now(store.load_unsent(usize::MAX)));
    told(now(store.load_unsent_blobs()));
    told(now(store.load_holdings(None)));
    told(now(store.progress()));
    told(now(store.rebuild_summaries()));
    told(now(store.compact()));
    if let Ok(shop) = now(store.shop_subject()) {
        let note = Body::Note(Note {
            text: "still".to_owned(),
            voice: None,
        });
        told(now(store.save(vec![Draft::new(shop, note)], Vec::new())));
    }
    told(now(store.evict_full_photos(phone::MORNING)));
    told(now(store.read_everything_again()));
    told(now(store.write_backup(Scope::All, &phone::Any, &mut drop)));
}

/// Checks that an operation succeeded or named a row that it cannot read.
fn told<T>(answer: Result<T, StoreError>) {
    match answer {
        Ok(_) | Err(StoreError::Unreadable { .. } | StoreError::NewerApp) => {}
        Err(error) => panic!("{error:?}"),
    }
}

pub(crate) fn seeds() -> Vec<Vec<u8>> {
    let (kv, _) = phone::lived_in();
    let mut seeds = Vec::new();
    for table in TEXT {
        for (number, row) in kv.rows(table).into_iter().enumerate().take(8) {
            let value = row.as_text().unwrap_or_default();
            if text(value.as_bytes()).is_some_and(|text| text.len() < 60_000) {
                seeds.push(format!("{} {number}\n{value}", table.name).into_bytes());
            }
        }
    }
    seeds
}
