//! The jobs in the shop as an instance of the plan.

use super::chain::{Chain, OnBench};
use super::job::Job;
use super::windows::Week;
use crate::log::entry::UnixMs;
use crate::log::fold::ShopState;
use crate::plan::Instance;
use crate::price::job_statistics::{JobStatistics, StatedRates};
use crate::trade::cement_guide::OwnCements;

/// The least number of days ahead that are planned.
const FEWEST_DAYS: usize = 28;
/// The greatest number of days ahead that are planned.
const MOST_DAYS: usize = 448;

/// Jobs, their chains and the instance made from them: one pair for each chain, in the same order.
pub(super) struct Bench {
    pub(super) week: Week,
    pub(super) jobs: Vec<Job>,
    pub(super) chains: Vec<Chain>,
    pub(super) instance: Instance,
}

/// What a plan needs besides the jobs.
#[derive(Clone, Copy)]
pub(crate) struct WeekInput<'a> {
    /// The shop's fields.
    pub(crate) shop: &'a ShopState,
    /// The statistics of its finished jobs.
    pub(crate) statistics: &'a JobStatistics,
    /// The repairer's own estimates of how often hidden damage is found.
    pub(crate) stated_rates: StatedRates<'a>,
    /// The current time.
    pub(crate) now: UnixMs,
    /// The time zone of the device, a name of the IANA time zone database.
    pub(crate) zone: &'a str,
    /// The current offset of the device from UTC, in minutes east of Greenwich.
    pub(crate) offset_min: i16,
}

impl Bench {
    /// The instance of these jobs.
    pub(super) fn of(jobs: Vec<Job>, given: &WeekInput<'_>) -> Self {
        let week = Week::new(
            super::Hours::of(given.shop),
            given.zone,
            given.offset_min,
            given.now,
        );
        let near = week.windows(FEWEST_DAYS);
        let on = OnBench {
            hours: &week.hours,
            statistics: given.statistics,
            stated_rates: given.stated_rates,
            cements: OwnCements::of(given.shop),
            longest: near.iter().map(|window| window[1] - window[0]).max().unwrap_or(0),
        };
        let chains: Vec<Chain> = jobs
            .iter()
            .map(|job| {
                let mut chain = on.chain(job, &|at| week.since(at), week.now);
                chain.pair.due = job.day.and_then(|day| week.due(day, job.ready_from.as_deref()));
                if let Some(until) = job.put_aside {
                    chain.pair.ready = chain.pair.ready.max(Some(week.since(until)));
                }
                chain
            })
            .collect();
        let instance = Instance {
            now: week.now,
            windows: Some(windows(&week, &chains)),
            workers: week.hours.hands,
            pairs: chains.iter().map(|chain| chain.pair.clone()).collect(),
        };
        Self {
            week,
            jobs,
            chains,
            instance,
        }
    }
}

/// The windows of as many days as twice the work takes.
fn windows(week: &Week, chains: &[Chain]) -> Vec<[i64; 2]> {
    let operations = chains.iter().flat_map(|chain| &chain.pair.operations);
    let work: i64 = operations
        .map(|operation| i64::from(operation.minutes + operation.setup_minutes))
        .sum();
    let mut days = FEWEST_DAYS;
    loop {
        let windows = week.windows(days);
        let open: i64 = windows.iter().map(|window| window[1] - window[0]).sum();
        if open * i64::from(week.hours.hands) >= 2 * work || days >= MOST_DAYS {
            return windows;
        }
        days *= 2;
    }
}
