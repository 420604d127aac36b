//! Rows and indexes in memory.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Bound;

use crate::store::kv::{KeyRange, Row, RowValue, Table};

#[derive(Debug, Clone, Default)]
pub(super) struct Contents {
    pub(super) rows: BTreeMap<&'static str, BTreeMap<String, Row>>,
    /// By table and index: the values with the keys of their rows.
    pub(super) indexes: BTreeMap<(&'static str, &'static str), BTreeSet<(String, String)>>,
}

impl Contents {
    /// The rows of a range, in key order.
    pub(super) fn within(&self, table: Table, span: KeyRange<'_>) -> impl Iterator<Item = &Row> {
        let rows = self.rows.get(table.name).into_iter();
        let ends = (Bound::Included(span.first), Bound::Included(span.last));
        rows.flat_map(move |rows| rows.range::<str, _>(ends))
            .map(|(_, row)| row)
    }

    pub(super) fn put(&mut self, table: Table, row: Row) -> Option<Row> {
        let before = self.delete(table, &row.key);
        for (index, value) in &row.indexed {
            self.indexes
                .entry((table.name, index))
                .or_default()
                .insert((value.clone(), row.key.clone()));
        }
        self.rows
            .entry(table.name)
            .or_default()
            .insert(row.key.clone(), row);
        before
    }

    pub(super) fn delete(&mut self, table: Table, key: &str) -> Option<Row> {
        let row = self.rows.get_mut(table.name)?.remove(key)?;
        for (index, value) in &row.indexed {
            if let Some(entries) = self.indexes.get_mut(&(table.name, *index)) {
                entries.remove(&(value.clone(), row.key.clone()));
            }
        }
        Some(row)
    }

    /// The keys of the rows with a value of this range in an index, by value, then by key.
    pub(super) fn keys(
        &self,
        table: Table,
        index: &'static str,
        span: KeyRange<'_>,
    ) -> impl Iterator<Item = &String> {
        let entries = self.indexes.get(&(table.name, index)).into_iter();
        let from = (span.first.to_owned(), String::new());
        let last = span.last.to_owned();
        entries
            .flat_map(move |entries| entries.range(from.clone()..))
            .take_while(move |(value, _)| *value <= last)
            .map(|(_, key)| key)
    }
}

/// The size of a row in bytes.
pub(super) fn size(row: &Row) -> u64 {
    let value = match &row.value {
        RowValue::Text(text) => text.len(),
        RowValue::Bytes(bytes) => bytes.len(),
    };
    (row.key.len() + value) as u64
}
