//! The log of whole pairs, and which pairs have left the shop: what the plan of a day is made from.

use std::collections::BTreeSet;
use std::iter::successors;

use serde::Deserialize;
use shared::analytics::PairLog;
use shared::log::fold::PairHistory;
use shared::log::{ReceivedEntry, SubjectId, UnixMs, inserted};
use shared::price::records::{At, month_word};

use super::KvStore;
use super::error::StoreError;
use super::kv::{Kv, KvTx, Mode, Row};
use super::lookup::LookedUp;
use super::surroundings::Surroundings;
use super::tables::{PAIRS, index};

/// No clock on Earth differs from UTC by more than this, in ms.
const FARTHEST_ZONE_MS: i64 = 24 * 3_600_000;

/// A row of `pairs`, as far as it is needed here. To read all of its facts for the books would add much to the wasm.
#[derive(Deserialize)]
struct LeavingRow {
    facts: LeavingPair,
}

/// Of the [`PairFacts`](shared::price::records::PairFacts) of such a row, what is needed here.
#[derive(Deserialize)]
struct LeavingPair {
    #[serde(rename = "j", default)]
    jobs: Vec<LeavingJob>,
}

/// Of the [`JobFacts`](shared::price::records::JobFacts) of such a row, what is needed here.
#[derive(Deserialize)]
struct LeavingJob {
    #[serde(rename = "h", default)]
    handed_over_at: Option<At>,
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// The log of each of these pairs, which are given by any of their ids, each once: every entry about the pair, its
    /// jobs and their tickets, oldest first. There is one log for all ids of one pair, and none of an unknown pair.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn pair_logs(&self, pairs: &[SubjectId]) -> Result<Vec<PairLog>, StoreError> {
        let lookup = self.lookup().await?;
        let mut found = LookedUp::new();
        let histories = lookup.histories_in(&mut found, pairs).await?;
        let logs = histories.iter().map(|one| PairLog {
            pair: one.history.id,
            entries: entries_of(&one.history, &found),
        });
        Ok(logs.filter(|log| !log.entries.is_empty()).collect())
    }

    /// The pairs of which a job has left the shop since then, by the clock of the device that noted it, in order of
    /// id.
    ///
    /// It reads the rows of the pairs of the months since then. The entries of such a pair may be in the archive
    /// already: it is archived when the device is next idle, or at once if it came in a large batch.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn left_since(&self, since: UnixMs) -> Result<Vec<SubjectId>, StoreError> {
        let tx = self.kv.begin(&[PAIRS], Mode::Read).await?;
        let months = months(since, self.around.wall());
        let rows = tx.by_index(PAIRS, index::MONTH, &months).await?;
        let left = rows.iter().flatten().filter(|row| has_left(row, since));
        let left: BTreeSet<_> = inserted(left.filter_map(|row| row.key.parse::<SubjectId>().ok()));
        Ok(left.into_iter().collect())
    }
}

/// The entries about a pair, its jobs and their tickets, oldest first.
fn entries_of(history: &PairHistory, found: &LookedUp) -> Vec<ReceivedEntry> {
    let own = history
        .same
        .iter()
        .chain(history.jobs.keys())
        .chain(history.tickets.keys());
    let own: BTreeSet<SubjectId> = inserted(own.copied());
    let mut entries = Vec::new();
    for id in own {
        // The others only link to it.
        let about = found.get(&id).into_iter().flatten();
        entries.extend(about.filter(|received| received.entry.subject.id == id).cloned());
    }
    entries.sort_by_key(ReceivedEntry::position);
    entries
}

/// The months from one moment to another in any time zone, as `YYYY-MM`; none if a moment is implausible.
pub(super) fn months(since: UnixMs, until: UnixMs) -> Vec<String> {
    let month = |ms: i64| At(ms, 0).month();
    let first = month(since.0.saturating_sub(FARTHEST_ZONE_MS));
    let last = month(until.0.saturating_add(FARTHEST_ZONE_MS));
    let (Some(first), Some(last)) = (first, last) else {
        return Vec::new();
    };
    let next = |(year, month): &(i64, i64)| {
        Some(if *month == 12 {
            (*year + 1, 1)
        } else {
            (*year, *month + 1)
        })
    };
    let all = successors(Some(first), next).take_while(|month| *month <= last);
    all.map(month_word).collect()
}

/// Whether a job of the pair in this row has left the shop since then.
fn has_left(row: &Row, since: UnixMs) -> bool {
    let read = row.as_text().and_then(|text| serde_json::from_str(text).ok());
    read.is_some_and(|LeavingRow { facts }| {
        let mut left = facts.jobs.iter().filter_map(|job| job.handed_over_at);
        left.any(|at| at.utc() >= since)
    })
}
