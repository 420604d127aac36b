//! Finding entries anywhere on the device: those that mention a person, and mentions that an earlier version of the app
//! received without knowing that they erase.

use std::collections::{BTreeMap, BTreeSet};

use shared::log::mentions::{Mention, PersonNames};
use shared::log::{EntryId, Erasures, ReceivedEntry, SubjectId, SubjectKind};

use super::KvStore;
use super::block;
use super::error::StoreError;
use super::kv::{Kv, KvTx, Mode, Table};
use super::record::Record;
use super::surroundings::Surroundings;
use super::tables::{BLOCKS, TAIL};

/// Rows of the tail and of the archive that are read at a time.
const ROWS: [(Table, u32); 2] = [(TAIL, 1000), (BLOCKS, 16)];

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// Every entry that mentions the person, but for those about the subjects in `without`, whose content is erased anyway.
    /// The oldest first.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn mentions(
        &self,
        names: &PersonNames,
        without: &BTreeSet<SubjectId>,
    ) -> Result<Vec<(ReceivedEntry, Mention)>, StoreError> {
        let tx = self.kv.begin(&[TAIL, BLOCKS], Mode::Read).await?;
        let mut found: BTreeMap<EntryId, (ReceivedEntry, Mention)> = BTreeMap::new();
        let mut look = |received: ReceivedEntry| {
            let entry = &received.entry;
            let is_erasable = entry.subject.kind != SubjectKind::Shop;
            if is_erasable
                && !without.contains(&entry.subject.id)
                && let Some(mention) = names.mention(entry)
            {
                found.entry(entry.id).or_insert((received, mention));
            }
        };
        each_entry(&tx, &|_| true, &mut look).await?;
        let mut found: Vec<_> = found.into_values().collect();
        found.sort_by_key(|(received, _)| received.position());
        Ok(found)
    }
}

/// The mentions that stored entries erase.
pub(super) async fn erased<T: KvTx>(tx: &T) -> Result<Erasures, StoreError> {
    let mut erased = Erasures::default();
    let may_erase = |text: &str| text.contains("mention_erased");
    let mut note = |received: ReceivedEntry| {
        if received.entry.kind == "mention_erased" {
            erased.note(&received.entry);
        }
    };
    each_entry(tx, &may_erase, &mut note).await?;
    Ok(erased)
}

/// Hands over every entry that is read from a row whose text `may` be of interest. An entry that is in the tail and in the
/// archive comes twice.
pub(super) async fn each_entry<T: KvTx>(
    tx: &T,
    may: &dyn Fn(&str) -> bool,
    each: &mut dyn FnMut(ReceivedEntry),
) -> Result<(), StoreError> {
    for (table, limit) in ROWS {
        let mut after = String::new();
        loop {
            let rows = tx.after(table, &after, limit).await?;
            let Some(last) = rows.last() else { break };
            after.clone_from(&last.key);
            for row in rows.iter().filter(|row| row.as_text().is_none_or(may)) {
                if table == TAIL {
                    let record = Record::read(row).filter(Record::is_read);
                    record.into_iter().for_each(|record| each(record.received));
                } else {
                    block::entries(row).for_each(&mut *each);
                }
            }
        }
    }
    Ok(())
}
