//! A database in memory, as strict as IndexedDB and able to fail on demand: for tests and simulations.

mod contents;
mod run;
mod transaction;

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::future::poll_fn;
use std::ops::Bound;
use std::rc::Rc;
use std::task::{Poll, Waker};

use super::kv::{KeyRange, Kv, KvError, KvTx, Mode, Row, Table};
use contents::Contents;
pub use run::{in_time, now};

/// A failure to simulate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// The device crashes just before the n-th commit from now (1 is the next): none of it is stored.
    CrashBefore(u32),
    /// The device crashes just after the n-th commit from now: all of it is stored, but the caller does not learn it.
    CrashAfter(u32),
    /// There is no space for the n-th commit from now, nor for any later one that adds bytes.
    Full(u32),
}

#[derive(Debug, Default)]
struct Shared {
    contents: RefCell<Contents>,
    fault: Cell<Option<Fault>>,
    /// Whether the device has crashed; everything fails until [`Memory::restart`].
    dead: Cell<bool>,
    commits: Cell<u64>,
    /// The open transactions: their tables, and whether they write.
    open: RefCell<BTreeMap<u64, (Vec<&'static str>, bool)>>,
    next: Cell<u64>,
    waiting: RefCell<Vec<Waker>>,
}

/// The database. Clones are the same database, like two tabs of one browser; [`Memory::fork`] copies it.
#[derive(Debug, Clone, Default)]
pub struct Memory {
    shared: Rc<Shared>,
}

impl Memory {
    /// An independent copy of what is committed, like a cloned phone.
    #[must_use]
    pub fn fork(&self) -> Memory {
        assert_eq!(
            self.open_transactions(),
            0,
            "a phone is copied between its transactions"
        );
        let shared = Shared {
            contents: self.shared.contents.clone(),
            ..Shared::default()
        };
        Memory {
            shared: Rc::new(shared),
        }
    }

    /// Replaces the content by that of another copy.
    pub fn restore(&self, copy: &Memory) {
        let contents = copy.shared.contents.borrow().clone();
        *self.shared.contents.borrow_mut() = contents;
    }

    /// Arranges a failure, in place of one arranged before.
    pub fn fail(&self, fault: Fault) {
        self.shared.fault.set(Some(fault));
    }

    /// Starts the device again after a crash, or ends a lack of space.
    pub fn restart(&self) {
        self.shared.fault.set(None);
        self.shared.dead.set(false);
    }

    /// Whether a crash has happened since the last restart.
    pub fn crashed(&self) -> bool {
        self.shared.dead.get()
    }

    /// The number of writing transactions that have committed.
    pub fn commits(&self) -> u64 {
        self.shared.commits.get()
    }

    /// The number of open transactions: it must be zero whenever anything else is awaited, above all the network.
    pub fn open_transactions(&self) -> usize {
        self.shared.open.borrow().len()
    }

    /// Every row of a table, in key order.
    pub fn rows(&self, table: Table) -> Vec<Row> {
        let contents = self.shared.contents.borrow();
        contents
            .rows
            .get(table.name)
            .into_iter()
            .flat_map(|rows| rows.values().cloned())
            .collect()
    }

    /// Writes a row without the store, as another version of the app might have left it.
    pub fn plant(&self, table: Table, row: Row) {
        self.shared.contents.borrow_mut().put(table, row);
    }

    fn must_wait(&self, tables: &[Table], mode: Mode) -> bool {
        let writes = mode != Mode::Read;
        self.shared.open.borrow().values().any(|(theirs, they_write)| {
            (writes || *they_write) && tables.iter().any(|table| theirs.contains(&table.name))
        })
    }
}

impl Kv for Memory {
    type Tx = MemoryTx;

    async fn begin(&self, tables: &[Table], mode: Mode) -> Result<MemoryTx, KvError> {
        poll_fn(|context| {
            if self.shared.dead.get() {
                return Poll::Ready(());
            }
            if self.must_wait(tables, mode) {
                self.shared.waiting.borrow_mut().push(context.waker().clone());
                return Poll::Pending;
            }
            Poll::Ready(())
        })
        .await;
        if self.shared.dead.get() {
            return Err(KvError::Lost);
        }
        let number = self.shared.next.get();
        self.shared.next.set(number + 1);
        let names = tables.iter().map(|table| table.name).collect();
        self.shared
            .open
            .borrow_mut()
            .insert(number, (names, mode != Mode::Read));
        Ok(MemoryTx {
            shared: Rc::clone(&self.shared),
            number,
            tables: tables.to_vec(),
            mode,
            undo: RefCell::default(),
        })
    }
}

/// A transaction on [`Memory`]. Writes are made in place and undone unless it commits; the rules of [`Kv`] block every
/// other transaction meanwhile.
#[derive(Debug)]
pub struct MemoryTx {
    shared: Rc<Shared>,
    number: u64,
    tables: Vec<Table>,
    mode: Mode,
    undo: RefCell<Vec<(Table, String, Option<Row>)>>,
}

impl KvTx for MemoryTx {
    async fn get_many(&self, table: Table, keys: &[String]) -> Result<Vec<Option<Row>>, KvError> {
        self.read(table, None, |contents| {
            let rows = contents.rows.get(table.name);
            keys.iter()
                .map(|key| rows.and_then(|rows| rows.get(key)).cloned())
                .collect()
        })
    }

    async fn by_index(
        &self,
        table: Table,
        index: &'static str,
        values: &[String],
    ) -> Result<Vec<Vec<Row>>, KvError> {
        self.read(table, Some(index), |contents| {
            let rows = |value: &String| {
                let keys = contents.keys(table, index, KeyRange::only(value));
                keys.filter_map(|key| contents.rows.get(table.name)?.get(key))
                    .map(|row| with_values(row, None))
                    .collect()
            };
            values.iter().map(rows).collect()
        })
    }

    async fn keys_by_index(
        &self,
        table: Table,
        index: &'static str,
        values: &[String],
    ) -> Result<Vec<Vec<String>>, KvError> {
        self.read(table, Some(index), |contents| {
            values
                .iter()
                .map(|value| {
                    contents
                        .keys(table, index, KeyRange::only(value))
                        .cloned()
                        .collect()
                })
                .collect()
        })
    }

    async fn keys_in_stretch(
        &self,
        table: Table,
        index: &'static str,
        span: KeyRange<'_>,
        limit: u32,
    ) -> Result<Vec<String>, KvError> {
        self.read(table, Some(index), |contents| {
            let keys = contents.keys(table, index, span);
            keys.take(limit as usize).cloned().collect()
        })
    }

    async fn after(&self, table: Table, after: &str, limit: u32) -> Result<Vec<Row>, KvError> {
        self.read(table, None, |contents| {
            let rows = contents.rows.get(table.name).into_iter();
            let later =
                rows.flat_map(|rows| rows.range::<str, _>((Bound::Excluded(after), Bound::Unbounded)));
            later.take(limit as usize).map(|(_, row)| row.clone()).collect()
        })
    }

    async fn within(&self, table: Table, span: KeyRange<'_>) -> Result<Vec<Row>, KvError> {
        self.read(table, None, |contents| {
            contents
                .within(table, span)
                .map(|row| with_values(row, None))
                .collect()
        })
    }

    async fn in_index(
        &self,
        table: Table,
        index: &'static str,
        after: &str,
        limit: u32,
    ) -> Result<Vec<Row>, KvError> {
        self.read(table, Some(index), |contents| {
            let entries = contents.indexes.get(&(table.name, index)).into_iter().flatten();
            let later = entries.filter(|(value, _)| value.as_str() > after);
            let rows = later.filter_map(|(_, key)| contents.rows.get(table.name)?.get(key));
            rows.take(limit as usize)
                .map(|row| with_values(row, Some(index)))
                .collect()
        })
    }

    async fn count(&self, table: Table) -> Result<u64, KvError> {
        self.read(table, None, |contents| {
            contents.rows.get(table.name).map_or(0, |rows| rows.len() as u64)
        })
    }

    async fn count_within(&self, table: Table, span: KeyRange<'_>) -> Result<u64, KvError> {
        self.read(table, None, |contents| {
            contents.within(table, span).count() as u64
        })
    }

    fn put(&self, table: Table, row: Row) {
        let key = row.key.clone();
        for (index, _) in &row.indexed {
            self.check(table, Some(index));
        }
        self.write(table, &key, Some(row));
    }

    fn delete(&self, table: Table, key: &str) {
        self.write(table, key, None);
    }

    fn delete_within(&self, table: Table, span: KeyRange<'_>) {
        let contents = self.shared.contents.borrow();
        let keys: Vec<_> = contents.within(table, span).map(|row| row.key.clone()).collect();
        drop(contents);
        for key in keys {
            self.write(table, &key, None);
        }
    }

    async fn commit(self) -> Result<(), KvError> {
        if self.shared.dead.get() {
            return Err(KvError::Lost);
        }
        if self.mode == Mode::Read {
            return Ok(());
        }
        match self.fault() {
            Some(Fault::CrashBefore(_)) => {
                self.shared.dead.set(true);
                Err(KvError::Lost)
            }
            Some(Fault::Full(_)) if self.grows() => Err(KvError::Full),
            crash => {
                self.undo.borrow_mut().clear();
                self.shared.commits.set(self.shared.commits.get() + 1);
                if let Some(Fault::CrashAfter(_)) = crash {
                    self.shared.dead.set(true);
                    return Err(KvError::Lost);
                }
                Ok(())
            }
        }
    }
}

/// A row with only the index values that the trait promises.
fn with_values(row: &Row, index: Option<&str>) -> Row {
    let mut row = row.clone();
    row.indexed.retain(|(name, _)| Some(*name) == index);
    row
}

impl Drop for MemoryTx {
    fn drop(&mut self) {
        self.roll_back();
        self.shared.open.borrow_mut().remove(&self.number);
        self.shared.waiting.borrow_mut().drain(..).for_each(Waker::wake);
    }
}
