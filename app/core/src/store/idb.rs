//! The database in the browser: IndexedDB.
//!
//! Written with the browser's own interface, because three things matter here that wrappers hide: one handler answers a
//! whole batch of requests, a transaction states its durability, and every failure has a name.
//!
//! A row is a plain object: `k` is the key, each index is a property (a text, or a list of texts), and `t` is text or
//! `b` bytes. All indexes are `multiEntry`, so that a list puts the row under each of its members.

mod connection;
mod failure;
mod request;
mod row;

use std::cell::RefCell;

use js_sys::{Array, Object};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{IdbIndex, IdbKeyRange, IdbObjectStore, IdbRequest, IdbTransaction};

pub use connection::Idb;
pub use request::first_event;

use super::kv::{KeyRange, Kv, KvError, KvTx, Mode, Row, Table};
use super::tables::META;
use crate::browser::js::{method, set};
use failure::{named, of_thrown};
use request::{all, finished};

impl Kv for Idb {
    type Tx = IdbTx;

    async fn begin(&self, tables: &[Table], mode: Mode) -> Result<IdbTx, KvError> {
        for attempt in [Attempt::First, Attempt::Last] {
            let database = self.database().await?;
            match transaction(&database, tables, mode) {
                Ok(tx) if self.was_idle() => {
                    // Phones cut the connection while the app is in the background, and report it only with the first
                    // request afterwards.
                    match tx.wakes(tables).await {
                        Ok(()) => return Ok(tx),
                        Err(_) => self.drop_connection(),
                    }
                }
                Ok(tx) => return Ok(tx),
                Err(error) => {
                    self.drop_connection();
                    if attempt == Attempt::Last {
                        return Err(error);
                    }
                }
            }
        }
        Err(KvError::Lost)
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Attempt {
    First,
    Last,
}

/// Opens a transaction. Untyped, because the typed binding does not know durability yet.
fn transaction(database: &web_sys::IdbDatabase, tables: &[Table], mode: Mode) -> Result<IdbTx, KvError> {
    let names: Array = tables.iter().map(|table| JsValue::from_str(table.name)).collect();
    let (access, durability) = match mode {
        Mode::Read => ("readonly", "default"),
        Mode::Write => ("readwrite", "relaxed"),
        Mode::WriteStrict => ("readwrite", "strict"),
    };
    let options = Object::new();
    set(&options, "durability", &JsValue::from_str(durability));
    let begin = method(database, "transaction").ok_or(KvError::Lost)?;
    let tx = begin.call3(database, &names, &JsValue::from_str(access), &options);
    let tx: IdbTransaction = tx.map_err(|thrown| of_thrown(&thrown))?.unchecked_into();
    Ok(IdbTx {
        tx,
        mode,
        failed: RefCell::new(None),
        over: RefCell::new(false),
    })
}

/// A transaction on [`Idb`].
#[derive(Debug)]
pub struct IdbTx {
    tx: IdbTransaction,
    mode: Mode,
    /// The error of the first write whose request could not be made.
    failed: RefCell<Option<KvError>>,
    over: RefCell<bool>,
}

impl IdbTx {
    /// The browser's own transaction.
    pub fn native(&self) -> &IdbTransaction {
        &self.tx
    }

    fn store(&self, table: Table) -> Result<IdbObjectStore, KvError> {
        self.tx
            .object_store(table.name)
            .map_err(|thrown| of_thrown(&thrown))
    }

    fn index(&self, table: Table, index: &str) -> Result<IdbIndex, KvError> {
        self.store(table)?
            .index(index)
            .map_err(|thrown| of_thrown(&thrown))
    }

    /// Makes a small request to the first table, as a test of the connection.
    async fn wakes(&self, tables: &[Table]) -> Result<(), KvError> {
        let store = self.store(tables.first().copied().unwrap_or(META))?;
        self.answers(&[store.count()], |_| ()).await.map(drop)
    }

    /// Waits for requests that were all made, and reads each result.
    async fn answers<R>(
        &self,
        requests: &[Result<IdbRequest, JsValue>],
        read: impl Fn(JsValue) -> R,
    ) -> Result<Vec<R>, KvError> {
        match all(requests).await {
            Ok(results) => Ok(results.into_iter().map(read).collect()),
            // The error of the transaction says more than that of the request that aborted it.
            Err(thrown) => Err(self
                .tx
                .error()
                .map_or_else(|| of_thrown(&thrown), |error| named(&error))),
        }
    }

    async fn counted(&self, request: Result<IdbRequest, JsValue>) -> Result<u64, KvError> {
        let counts = self.answers(&[request], |count| count.as_f64()).await?;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a count of rows"
        )]
        Ok(counts.into_iter().flatten().next().unwrap_or(0.0) as u64)
    }

    fn attempt(&self, write: impl FnOnce() -> Result<(), KvError>) {
        if let Err(error) = write() {
            self.failed.borrow_mut().get_or_insert(error);
        }
    }
}

impl KvTx for IdbTx {
    async fn get_many(&self, table: Table, keys: &[String]) -> Result<Vec<Option<Row>>, KvError> {
        let store = self.store(table)?;
        let requests: Vec<_> = keys
            .iter()
            .map(|key| store.get(&JsValue::from_str(key)))
            .collect();
        self.answers(&requests, |found| row::read(table.indexes, &found))
            .await
    }

    async fn by_index(
        &self,
        table: Table,
        index: &'static str,
        values: &[String],
    ) -> Result<Vec<Vec<Row>>, KvError> {
        let index = self.index(table, index)?;
        let requests: Vec<_> = values
            .iter()
            .map(|value| index.get_all_with_key(&JsValue::from_str(value)))
            .collect();
        self.answers(&requests, |found| rows(&[], &found)).await
    }

    async fn keys_by_index(
        &self,
        table: Table,
        index: &'static str,
        values: &[String],
    ) -> Result<Vec<Vec<String>>, KvError> {
        let index = self.index(table, index)?;
        let requests: Vec<_> = values
            .iter()
            .map(|value| index.get_all_keys_with_key(&JsValue::from_str(value)))
            .collect();
        self.answers(&requests, |found| keys(&found)).await
    }

    async fn keys_in_stretch(
        &self,
        table: Table,
        index: &'static str,
        span: KeyRange<'_>,
        limit: u32,
    ) -> Result<Vec<String>, KvError> {
        let request = self
            .index(table, index)?
            .get_all_keys_with_key_and_limit(&stretch(span)?, limit);
        let found = self.answers(&[request], |found| keys(&found)).await?;
        Ok(found.into_iter().flatten().collect())
    }

    async fn after(&self, table: Table, after: &str, limit: u32) -> Result<Vec<Row>, KvError> {
        let request = self
            .store(table)?
            .get_all_with_key_and_limit(&beyond(after)?, limit);
        Ok(self
            .answers(&[request], |found| rows(table.indexes, &found))
            .await?
            .pop()
            .unwrap_or_default())
    }

    async fn within(&self, table: Table, span: KeyRange<'_>) -> Result<Vec<Row>, KvError> {
        let request = self.store(table)?.get_all_with_key(&stretch(span)?);
        let found = self.answers(&[request], |found| rows(&[], &found)).await?;
        Ok(found.into_iter().flatten().collect())
    }

    async fn in_index(
        &self,
        table: Table,
        index: &'static str,
        after: &str,
        limit: u32,
    ) -> Result<Vec<Row>, KvError> {
        let request = self
            .index(table, index)?
            .get_all_with_key_and_limit(&beyond(after)?, limit);
        Ok(self
            .answers(&[request], |found| rows(&[index], &found))
            .await?
            .pop()
            .unwrap_or_default())
    }

    async fn count(&self, table: Table) -> Result<u64, KvError> {
        self.counted(self.store(table)?.count()).await
    }

    async fn count_within(&self, table: Table, span: KeyRange<'_>) -> Result<u64, KvError> {
        self.counted(self.store(table)?.count_with_key(&stretch(span)?))
            .await
    }

    fn put(&self, table: Table, row: Row) {
        self.attempt(|| {
            let put = self.store(table)?.put(&row::write(table, &row));
            put.map(drop).map_err(|thrown| of_thrown(&thrown))
        });
    }

    fn delete(&self, table: Table, key: &str) {
        self.attempt(|| {
            let delete = self.store(table)?.delete(&JsValue::from_str(key));
            delete.map(drop).map_err(|thrown| of_thrown(&thrown))
        });
    }

    fn delete_within(&self, table: Table, span: KeyRange<'_>) {
        self.attempt(|| {
            let delete = self.store(table)?.delete(&stretch(span)?);
            delete.map(drop).map_err(|thrown| of_thrown(&thrown))
        });
    }

    async fn commit(self) -> Result<(), KvError> {
        if let Some(error) = self.failed.borrow_mut().take() {
            return Err(error);
        }
        if self.mode == Mode::Read {
            return Ok(());
        }
        *self.over.borrow_mut() = true;
        finished(&self.tx).await
    }
}

impl Drop for IdbTx {
    fn drop(&mut self) {
        if !*self.over.borrow() {
            // A transaction that is already finished throws, which does not matter.
            drop(self.tx.abort());
        }
    }
}

fn rows(indexes: &[&'static str], found: &JsValue) -> Vec<Row> {
    Array::from(found)
        .iter()
        .filter_map(|found| row::read(indexes, &found))
        .collect()
}

fn keys(found: &JsValue) -> Vec<String> {
    Array::from(found)
        .iter()
        .filter_map(|key| key.as_string())
        .collect()
}

/// The range of all keys greater than this one.
fn beyond(after: &str) -> Result<JsValue, KvError> {
    let range = IdbKeyRange::lower_bound_with_open(&JsValue::from_str(after), true);
    range.map(Into::into).map_err(|thrown| of_thrown(&thrown))
}

/// The range of keys from the first to the last.
fn stretch(span: KeyRange<'_>) -> Result<JsValue, KvError> {
    let range = IdbKeyRange::bound(&JsValue::from_str(span.first), &JsValue::from_str(span.last));
    range.map(Into::into).map_err(|thrown| of_thrown(&thrown))
}
