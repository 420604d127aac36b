//! The jobs and tickets of the given rows, with their attended minutes.

use std::collections::BTreeSet;

use serde::Deserialize;

use crate::log::fold::ShopState;
use crate::price::books::Books;
use crate::price::job_statistics::JobStatistics;
use crate::price::materials::stock;
use crate::price::minutes::{Attended, attended_by_own};
use crate::price::records::{JobFacts, PairFacts, TicketFacts, WorkStamp, month_word};
use crate::trade::formulas::day::Day;

/// The greatest number of pairs that figures are based on: older pairs are less typical of today.
pub const ENOUGH: usize = 2_000;
/// The greatest number of months before today that figures are based on.
pub const MONTHS_BACK: usize = 36;

/// The part of a stored row that the books use.
#[derive(Deserialize)]
struct LedgerRow {
    facts: PairFacts,
}

/// Reads rows of pairs, and of tickets on which goods were sold, one in each line; a line that is not a row, or was
/// written by an older app, is ignored.
pub(super) fn rows(text: &str) -> Vec<PairFacts> {
    let read = text
        .lines()
        .filter_map(|line| serde_json::from_str::<LedgerRow>(line).ok());
    read.map(|row| row.facts).collect()
}

#[derive(Debug, Default)]
pub(super) struct PairLedger {
    pub(super) jobs: Vec<JobFacts>,
    /// Each ticket once.
    pub(super) tickets: Vec<TicketFacts>,
    pub(super) attended: Vec<Attended>,
}

impl PairLedger {
    /// Infers the minutes from everybody's stamps.
    pub(super) fn of(pairs: Vec<PairFacts>) -> Self {
        let stamps: Vec<WorkStamp> = pairs.iter().flat_map(PairFacts::stamps).collect();
        let waits: Vec<_> = pairs.iter().flat_map(PairFacts::waits).collect();
        let mut all = Self {
            attended: attended_by_own(&stamps, &waits),
            ..Self::default()
        };
        let mut known = BTreeSet::new();
        for pair in pairs {
            all.jobs.extend(pair.jobs);
            let fresh = pair
                .tickets
                .into_iter()
                .filter(|ticket| known.insert(ticket.ticket));
            all.tickets.extend(fresh);
        }
        all
    }

    /// The books of all jobs.
    pub(super) fn books(&self, shop: &ShopState) -> Books {
        Books::of(&self.jobs, &self.tickets, &self.attended, &|code| {
            stock(shop, code)
        })
    }

    /// The books of these months only.
    pub(super) fn books_of(&self, shop: &ShopState, months: &[String]) -> Books {
        let counts = |month| months.contains(&month_word(month));
        Books::within(
            &self.jobs,
            &self.tickets,
            &self.attended,
            &|code| stock(shop, code),
            &counts,
        )
    }

    /// Of the same jobs those that were finished before this moment, without tickets.
    #[cfg(feature = "zones")]
    pub(super) fn finished_before(&self, moment: crate::log::entry::UnixMs) -> Self {
        let finished = |job: &&JobFacts| {
            let at = job
                .ready_at
                .into_iter()
                .chain(job.handed_over_at)
                .map(crate::price::records::At::utc)
                .min();
            at.is_some_and(|at| at < moment)
        };
        Self {
            jobs: self.jobs.iter().filter(finished).cloned().collect(),
            tickets: Vec::new(),
            attended: self.attended.clone(),
        }
    }

    /// The statistics of the finished jobs.
    pub(super) fn statistics(&self, shop: &ShopState) -> JobStatistics {
        JobStatistics::of(&self.jobs, &self.attended, &|code| stock(shop, code))
    }
}

/// So many months back from a day `YYYY-MM-DD`, its own month first, as `YYYY-MM`; none for a text that is not a day.
pub fn months_back(today: &str, count: usize) -> Vec<String> {
    let Some(day) = Day::parse(today) else {
        return Vec::new();
    };
    let (year, month, _) = day.date();
    let first = year * 12 + month - 1;
    let back = (0..).take(count).map(|back: i64| first - back);
    back.map(|all| month_word((all.div_euclid(12), all.rem_euclid(12) + 1)))
        .collect()
}
