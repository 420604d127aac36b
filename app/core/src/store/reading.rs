//! The read queries of the screens.

use std::collections::BTreeSet;

use shared::log::fold::{PairHistory, ShopState, Summary};
use shared::log::sameness::class_of;
use shared::log::{ReceivedEntry, Subject, SubjectId, SubjectKind};
use shared::sync::Problem;

use super::KvStore;
use super::blobs::{self, Info};
use super::error::StoreError;
use super::kv::{Kv, KvTx, Mode, Row, RowValue};
use super::lookup::Lookup;
use super::meta::{Membership, StoreCounts};
use super::record::Record;
use super::search::SearchIndex;
use super::summaries::PairRow;
use super::surroundings::Surroundings;
use super::tables::{BLOB_INFO, BLOBS, BLOCKS, META, PAIRS, SALES, SEARCH, TAIL, THUMBS, index};

/// Rows read at a time.
const PAGE: u32 = 1000;

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// The pairs that are in the shop, in order of id.
    ///
    /// It reads only their own rows, so that a cold start takes the same time in the tenth year as in the first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn in_shop(&self) -> Result<Vec<Summary>, StoreError> {
        let tx = self.kv.begin(&[PAIRS], Mode::Read).await?;
        let mut after = String::new();
        let mut summaries = Vec::new();
        loop {
            let rows = tx.in_index(PAIRS, index::OPEN, &after, PAGE).await?;
            let Some(last) = rows.last().and_then(|row| row.index_value(index::OPEN)) else {
                return Ok(summaries);
            };
            last.clone_into(&mut after);
            summaries.extend(rows.iter().filter_map(PairRow::read).map(|pair| pair.summary));
        }
    }

    /// The summaries of these pairs, by any of their ids, in the given order; unknown ones are left out.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn summaries(&self, pairs: &[SubjectId]) -> Result<Vec<Summary>, StoreError> {
        let tx = self.kv.begin(&[PAIRS], Mode::Read).await?;
        let keys: Vec<_> = pairs.iter().map(SubjectId::to_string).collect();
        let rows = tx.get_many(PAIRS, &keys).await?;
        let mut found = Vec::new();
        for (row, key) in rows.into_iter().zip(keys) {
            let pair = match row.as_ref().and_then(PairRow::read) {
                Some(pair) => Some(pair),
                None => row_of_other_name(&tx, &key).await?,
            };
            found.extend(pair.map(|pair| pair.summary));
        }
        Ok(found)
    }

    /// The rows of every pair on which work was done, which left the shop or for which a payment was made in these
    /// months, each pair once, as `shared::analytics` reads them. Months are `YYYY-MM`; once a month brings the number
    /// of pairs to `enough`, the months after it are left out.
    ///
    /// It reads only the pairs of those months, one month at a time.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn books(&self, months: &[String], enough: usize) -> Result<Vec<String>, StoreError> {
        let tx = self.kv.begin(&[PAIRS], Mode::Read).await?;
        let (mut seen, mut all) = (BTreeSet::new(), Vec::new());
        for month in months {
            if all.len() >= enough {
                break;
            }
            let rows = tx
                .by_index(PAIRS, index::MONTH, std::slice::from_ref(month))
                .await?;
            for row in rows.into_iter().flatten() {
                if let RowValue::Text(text) = row.value
                    && seen.insert(row.key)
                {
                    all.push(text);
                }
            }
        }
        Ok(all)
    }

    /// The pairs that are not in the shop and whose next check is after a day, `YYYY-MM-DD`: that day and the pair, the
    /// earliest first, at most `limit`.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn due(&self, after: &str, limit: u32) -> Result<Vec<(String, Summary)>, StoreError> {
        let tx = self.kv.begin(&[PAIRS], Mode::Read).await?;
        let rows = tx.in_index(PAIRS, index::DUE, after, limit).await?;
        let of = |row: &Row| {
            Some((
                row.index_value(index::DUE)?.to_owned(),
                PairRow::read(row)?.summary,
            ))
        };
        Ok(rows.iter().filter_map(of).collect())
    }

    /// The history of a pair, by any of its ids.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn pair_history(&self, pair: SubjectId) -> Result<PairHistory, StoreError> {
        let lookup = self.lookup().await?;
        let found = lookup.histories(&[pair]).await?.pop();
        Ok(found.map_or_else(
            || shared::log::fold::PairHistoryLoader::pair(pair).finish(),
            |found| found.history,
        ))
    }

    /// The histories of these pairs, which are given by any of their ids, each once; one history for all ids of one
    /// pair.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn pair_histories(&self, pairs: &[SubjectId]) -> Result<Vec<PairHistory>, StoreError> {
        let lookup = self.lookup().await?;
        let found = lookup.histories(pairs).await?;
        Ok(found.into_iter().map(|found| found.history).collect())
    }

    /// Every entry from which the pair's history was folded, oldest first, as the history screen shows them.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn history(&self, pair: SubjectId) -> Result<Vec<ReceivedEntry>, StoreError> {
        let log = self.pair_logs(&[pair]).await?.pop();
        Ok(log.map(|log| log.entries).unwrap_or_default())
    }

    /// Every entry about a subject, oldest first.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn entries_about(&self, subject: SubjectId) -> Result<Vec<ReceivedEntry>, StoreError> {
        let lookup = self.lookup().await?;
        let mut entries = lookup.about(&[subject]).await?.pop().unwrap_or_default();
        entries.sort_by_key(ReceivedEntry::position);
        Ok(entries)
    }

    /// At most `limit` pairs with these words in what tells one from another: see [`SearchIndex::find`].
    ///
    /// # Errors
    /// When the database fails.
    pub async fn search(&self, words: &str, limit: usize) -> Result<Vec<Summary>, StoreError> {
        let mut pairs = self.find(words).await?;
        pairs.truncate(limit);
        self.summaries(&pairs).await
    }

    /// At most `limit` pairs with these words in anything that was said or logged of them: see
    /// [`SearchIndex::find_logged`].
    ///
    /// # Errors
    /// When the database fails.
    pub async fn search_logged(&self, words: &str, limit: usize) -> Result<Vec<Summary>, StoreError> {
        let mut pairs = self.in_search_lines(|index| index.find_logged(words)).await?;
        pairs.truncate(limit);
        self.summaries(&pairs).await
    }

    /// Every pair with these words in what tells one from another: see [`SearchIndex::find`].
    ///
    /// # Errors
    /// When the database fails.
    pub async fn find(&self, words: &str) -> Result<Vec<SubjectId>, StoreError> {
        self.in_search_lines(|index| index.find(words)).await
    }

    /// What `find` finds in the search lines, which are loaded if they have changed.
    pub(super) async fn in_search_lines(
        &self,
        find: impl Fn(&SearchIndex) -> Vec<SubjectId>,
    ) -> Result<Vec<SubjectId>, StoreError> {
        let tx = self.kv.begin(&[META, SEARCH], Mode::Read).await?;
        let edition = self.meta_in(&tx).await?.state.search_edition;
        let stands = self
            .cache
            .borrow()
            .search
            .as_ref()
            .is_some_and(|index| index.stands_at(edition));
        if !stands {
            let rows = tx.after(SEARCH, "", u32::MAX).await?;
            self.cache.borrow_mut().search = Some(SearchIndex::load(&rows, edition));
        }
        Ok(self.cache.borrow().search.as_ref().map_or_else(Vec::new, find))
    }

    /// The subject of the shop's own entries: the joined shop, or else the device's own.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn shop_subject(&self) -> Result<Subject, StoreError> {
        let meta = self.meta().await?;
        Ok(Subject::new(
            SubjectKind::Shop,
            meta.membership.shop.map_or(meta.device.own_shop, SubjectId),
        ))
    }

    /// The state of the shop, including the entries made on this device before it joined.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn shop_state(&self) -> Result<ShopState, StoreError> {
        let lookup = self.lookup().await?;
        let meta = self.meta_in(&lookup.tx).await?;
        let shop = meta.membership.shop.map_or(meta.device.own_shop, SubjectId);
        let mut entries = shared::log::fold::Entries::default();
        let mut names = BTreeSet::new();
        let mut wanted = vec![shop];
        while !wanted.is_empty() {
            names.extend(wanted.iter().copied());
            let mut next = BTreeSet::new();
            for received in lookup.about(&wanted).await?.into_iter().flatten() {
                if received.entry.subject.kind == SubjectKind::Shop {
                    let linked = shared::log::about(&received.entry);
                    next.extend(linked.into_iter().filter(|id| !names.contains(id)));
                    entries.take(received);
                }
            }
            wanted = next.into_iter().collect();
        }
        let class = class_of(shop, entries.iter());
        Ok(ShopState::of(
            entries
                .iter()
                .filter(|received| class.contains(&received.entry.subject.id)),
        ))
    }

    /// The counters of the store, for Shop → Sync.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn counts(&self) -> Result<StoreCounts, StoreError> {
        Ok(self.meta().await?.state.counts)
    }

    /// Whether any pair or any sale is on this device.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn has_pairs_or_sales(&self) -> Result<bool, StoreError> {
        let tx = self.kv.begin(&[PAIRS, SALES], Mode::Read).await?;
        Ok(tx.count(PAIRS).await? + tx.count(SALES).await? > 0)
    }

    /// The device's membership of a shop.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn membership(&self) -> Result<Membership, StoreError> {
        Ok(self.meta().await?.membership)
    }

    /// The entries that a server has refused, each with the reason.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn refused(&self) -> Result<Vec<Record>, StoreError> {
        let tx = self.kv.begin(&[TAIL], Mode::Read).await?;
        let rows = tx.in_index(TAIL, index::REFUSED, "", PAGE).await?;
        Ok(rows.iter().filter_map(Record::read).collect())
    }

    /// The blobs that a server has refused: hash and reason.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn parked(&self) -> Result<Vec<(String, Problem)>, StoreError> {
        let tx = self.kv.begin(&[BLOB_INFO], Mode::Read).await?;
        let rows = tx.in_index(BLOB_INFO, index::PARKED, "", PAGE).await?;
        let parked = |row: &Row| Some((row.key.clone(), Info::read(row)?.parked?));
        Ok(rows.iter().filter_map(parked).collect())
    }

    /// The bytes of a thumbnail; `None` if they are not on this device.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn thumb(&self, sha256: &str) -> Result<Option<Vec<u8>>, StoreError> {
        let tx = self.kv.begin(&[THUMBS], Mode::Read).await?;
        blobs::bytes_in(&tx, THUMBS, sha256).await
    }

    /// The bytes of a photograph, thumbnail or voice note; `None` if they are not on this device.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn blob(&self, sha256: &str) -> Result<Option<Vec<u8>>, StoreError> {
        let tx = self.kv.begin(&[BLOBS, THUMBS], Mode::Read).await?;
        blobs::bytes(&tx, sha256).await
    }

    /// Whether these bytes were destroyed for good, so that no server and no device has them.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn is_destroyed(&self, sha256: &str) -> Result<bool, StoreError> {
        Ok(self.meta().await?.erasures.covers_blob(sha256))
    }

    /// The unfinished input stored under this name.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn draft(&self, name: &str) -> Result<Option<String>, StoreError> {
        let tx = self.kv.begin(&[META], Mode::Read).await?;
        let row = tx.get(META, &super::draft_key(name)).await?;
        Ok(row.as_ref().and_then(Row::as_text).map(str::to_owned))
    }

    /// All unfinished input whose name has this prefix: name and text, in order of name.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn drafts(&self, begins: &str) -> Result<Vec<(String, String)>, StoreError> {
        let tx = self.kv.begin(&[META], Mode::Read).await?;
        let begins = super::draft_key(begins);
        let rows = tx.after(META, &begins, PAGE).await?;
        let of = |row: &Row| {
            let name = row.key.strip_prefix(super::DRAFT)?;
            Some((name.to_owned(), row.as_text()?.to_owned()))
        };
        let those = rows.iter().take_while(|row| row.key.starts_with(&begins));
        Ok(those.filter_map(of).collect())
    }

    pub(super) async fn lookup(&self) -> Result<Lookup<K::Tx>, StoreError> {
        Ok(Lookup::new(
            self.kv.begin(&[META, TAIL, BLOCKS], Mode::Read).await?,
        ))
    }
}

/// The row of the pair that has this id as one of its other ids.
async fn row_of_other_name<T: KvTx>(tx: &T, key: &str) -> Result<Option<PairRow>, StoreError> {
    let rows = tx.by_index(PAIRS, index::REFS, &[key.to_owned()]).await?;
    let pairs = rows.iter().flatten().filter_map(PairRow::read);
    Ok(pairs
        .into_iter()
        .find(|pair| pair.same.iter().any(|id| id.to_string() == key)))
}
