//! Finds the rows with any of many values in an index, with few requests.
//!
//! Each request takes a browser tens of microseconds, and a page of history asks about a thousand subjects. Subjects
//! that were made together have ids next to each other (UUIDv7), so one request for the whole range answers for all of
//! them, unless too many other rows are in between.

use std::collections::BTreeSet;

use shared::log::inserted;

use super::kv::{KeyRange, KvError, KvTx, Table};

/// So many values or fewer are looked up one by one.
const FEW: usize = 16;

/// How many rows of the index may be read for each value: between two pairs are their jobs, tickets and customers.
const BETWEEN: usize = 16;

/// How many rows that were not asked for may be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Overread {
    /// As many rows as there are values: for rows with many values, most of which are wanted in any case.
    Much,
    /// A fraction of that: for rows that are expensive to read.
    Little,
}

impl Overread {
    /// With more rows than this, the range of so many values is split in two.
    fn most(self, values: usize) -> usize {
        match self {
            Overread::Much => values,
            Overread::Little => values / 4,
        }
    }
}

/// The keys of every row with one of these values, which must be in order, in `index`; and perhaps of rows with values
/// between them.
pub(super) async fn keys<T: KvTx>(
    tx: &T,
    (table, index): (Table, &'static str),
    values: &[String],
    beside: Overread,
) -> Result<BTreeSet<String>, KvError> {
    let mut found = BTreeSet::new();
    let mut alone = Vec::new();
    let mut stretches = vec![values];
    while let Some(values) = stretches.pop() {
        let Some(span) = KeyRange::over(values).filter(|_| values.len() > FEW) else {
            alone.extend_from_slice(values);
            continue;
        };
        let places = BETWEEN * values.len();
        let keys = tx.keys_in_stretch(table, index, span, places as u32).await?;
        let all = keys.len() < places;
        let mut rows: BTreeSet<_> = inserted(keys);
        if all && rows.len() <= beside.most(values.len()) {
            found.append(&mut rows);
        } else {
            stretches.extend(<[_; 2]>::from(values.split_at(values.len() / 2)));
        }
    }
    let keys = tx.keys_by_index(table, index, &alone).await?;
    found.extend(keys.into_iter().flatten());
    Ok(found)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::store::kv::{Kv, Mode, Row};
    use crate::store::memory::{Memory, in_time};
    use crate::store::tables::{BLOCKS, index};

    const ABOUT: (Table, &str) = (BLOCKS, index::ABOUT);

    fn name(value: u16) -> String {
        format!("{value:05}")
    }

    /// A database in which each row has these values.
    fn with(rows: &[Vec<u16>]) -> Memory {
        let kv = Memory::default();
        let tx = in_time(kv.begin(&[BLOCKS], Mode::Write)).expect("begins");
        for (number, values) in rows.iter().enumerate() {
            let mut row = Row::text(number.to_string(), "");
            row.indexed = values.iter().map(|value| (index::ABOUT, name(*value))).collect();
            tx.put(BLOCKS, row);
        }
        in_time(tx.commit()).expect("commits");
        kv
    }

    proptest! {
        #[test]
        fn every_row_under_the_values_is_found_and_few_others(
            rows in prop::collection::vec(prop::collection::vec(0..2000_u16, 1..8), 0..300),
            wanted in prop::collection::btree_set(0..2000_u16, 0..200),
            clump in 0..2000_u16,
            many in prop::bool::ANY,
        ) {
            let mut wanted = wanted;
            wanted.extend(clump..clump + 60);
            let beside = if many { Overread::Much } else { Overread::Little };
            let kv = with(&rows);
            let values: Vec<_> = wanted.iter().map(|value| name(*value)).collect();
            let tx = in_time(kv.begin(&[BLOCKS], Mode::Read)).expect("begins");
            let found = in_time(keys(&tx, ABOUT, &values, beside)).expect("answers");
            let is_wanted = |row: &Vec<u16>| row.iter().any(|value| wanted.contains(value));
            let under: BTreeSet<_> = (0..rows.len()).filter(|at| is_wanted(&rows[*at])).map(|at| at.to_string()).collect();
            prop_assert!(under.is_subset(&found));
            prop_assert!(found.len() - under.len() <= beside.most(values.len()));
        }
    }
}
