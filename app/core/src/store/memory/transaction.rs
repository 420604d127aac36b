//! How a transaction in memory waits, reads and ends.

use std::collections::BTreeMap;

use super::contents::{Contents, size};
use super::{Fault, MemoryTx};
use crate::store::kv::{KvError, Mode, Row, Table};

impl MemoryTx {
    pub(super) fn check(&self, table: Table, index: Option<&str>) {
        assert!(
            self.tables.contains(&table),
            "{} is not part of this transaction",
            table.name
        );
        if let Some(index) = index {
            assert!(
                table.indexes.contains(&index),
                "{} has no index {index}",
                table.name
            );
        }
    }

    pub(super) fn read<R>(
        &self,
        table: Table,
        index: Option<&str>,
        read: impl FnOnce(&Contents) -> R,
    ) -> Result<R, KvError> {
        self.check(table, index);
        if self.shared.dead.get() {
            return Err(KvError::Lost);
        }
        Ok(read(&self.shared.contents.borrow()))
    }

    pub(super) fn write(&self, table: Table, key: &str, row: Option<Row>) {
        self.check(table, None);
        assert!(
            self.mode != Mode::Read,
            "a reading transaction cannot write to {}",
            table.name
        );
        let mut contents = self.shared.contents.borrow_mut();
        let before = match row {
            Some(row) => contents.put(table, row),
            None => contents.delete(table, key),
        };
        self.undo.borrow_mut().push((table, key.to_owned(), before));
    }

    pub(super) fn roll_back(&self) {
        let mut contents = self.shared.contents.borrow_mut();
        for (table, key, before) in self.undo.borrow_mut().drain(..).rev() {
            match before {
                Some(row) => contents.put(table, row),
                None => contents.delete(table, &key),
            };
        }
    }

    /// The arranged failure, if it happens at this commit; counts it down.
    pub(super) fn fault(&self) -> Option<Fault> {
        let fault = self.shared.fault.get()?;
        let (left, make): (u32, fn(u32) -> Fault) = match fault {
            Fault::CrashBefore(n) => (n, Fault::CrashBefore),
            Fault::CrashAfter(n) => (n, Fault::CrashAfter),
            Fault::Full(n) => (n, Fault::Full),
        };
        if left > 1 {
            self.shared.fault.set(Some(make(left - 1)));
            return None;
        }
        Some(fault)
    }

    /// Whether this transaction makes the database larger.
    pub(super) fn grows(&self) -> bool {
        let contents = self.shared.contents.borrow();
        let mut first: BTreeMap<(&str, &str), u64> = BTreeMap::new();
        let undo = self.undo.borrow();
        for (table, key, before) in undo.iter() {
            first
                .entry((table.name, key))
                .or_insert_with(|| before.as_ref().map_or(0, size));
        }
        let after = |(table, key): &(&str, &str)| {
            contents
                .rows
                .get(table)
                .and_then(|rows| rows.get(*key))
                .map_or(0, size)
        };
        first.keys().map(after).sum::<u64>() > first.values().sum()
    }
}
