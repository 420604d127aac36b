//! When a pair should be looked at next: by its own wear where it was measured, else by the lives of the shop's other parts.

use shared::price::facts::{At, JobFacts, PairFacts};
use shared::trade::reckon::day::Day;
use shared::trade::{Component, Goods};
use shared::wear::part_life::{Check, Lives, Source, fitted, next_check};
use shared::wear::season::season;

use crate::card::in_words;

/// A part that is on a pair, and when to look at it.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// Which part.
    pub part: Component,
    /// When.
    pub check: Check,
}

/// How long parts last, from everything that was read.
pub fn lives(pairs: &[PairFacts]) -> Lives {
    let mut all = Lives::default();
    for pair in pairs {
        let Some(goods) = pair.jobs.first().map(|job| &job.goods) else {
            continue;
        };
        all.add(goods, &fitted(&pair.jobs), seen(&pair.jobs));
    }
    all
}

/// The last day the pair was here.
fn seen(jobs: &[JobFacts]) -> Option<Day> {
    let days = jobs.iter().flat_map(|job| [job.opened_at, job.handed_over_at]);
    days.flatten().filter_map(At::day).max()
}

/// When to look at each part that is on the pair, the earliest first.
pub fn looks(jobs: &[JobFacts], lives: &Lives) -> Vec<Look> {
    let goods = jobs.last().map_or(Goods::LowShoe, |job| job.goods.clone());
    let mut all: Vec<Look> = Vec::new();
    for part in fitted(jobs).iter().filter(|part| part.still_on()) {
        let life = lives.life(&part.operation, &goods);
        let Some(check) = next_check(part, jobs, life.as_ref()) else {
            continue;
        };
        all.push(Look {
            part: part.part.clone(),
            check,
        });
    }
    all.sort_by_key(|look| look.check.on);
    all
}

/// The same for a pair whose job is about to leave: as if it left at this moment.
pub fn looks_on_leaving(
    mut jobs: Vec<JobFacts>,
    job: shared::log::SubjectId,
    now: At,
    lives: &Lives,
) -> Vec<Look> {
    for one in jobs.iter_mut().filter(|one| one.job == job) {
        one.handed_over_at.get_or_insert(now);
    }
    looks(&jobs, lives)
}

/// A check in words: `spring 2027, between 3 March 2027 and 9 August 2027`.
pub fn words(check: &Check, today: Day) -> String {
    let day = |day: Day| in_words(&day.to_string());
    let season = season(check.on, today);
    if check.from == check.until {
        return season;
    }
    [
        &season,
        ", between ",
        &day(check.from),
        " and ",
        &day(check.until),
    ]
    .concat()
}

/// On what a check rests, in words.
pub fn rests_on(check: &Check) -> String {
    match check.source {
        Source::Measured(count) => format!("by {count} measurements of this part"),
        Source::Lives(parts) => format!("by the lives of {parts} such parts"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> Day {
        Day::parse(text).unwrap()
    }

    #[test]
    fn a_check_is_said_as_a_season_and_between_which_days() {
        let check = Check {
            on: day("2027-04-20"),
            from: day("2027-03-03"),
            until: day("2027-08-09"),
            source: Source::Lives(40),
        };
        assert_eq!(
            words(&check, day("2026-06-01")),
            "spring 2027, between 3 March 2027 and 9 August 2027"
        );
        assert_eq!(rests_on(&check), "by the lives of 40 such parts");
        let sure = Check {
            from: check.on,
            until: check.on,
            ..check
        };
        assert_eq!(words(&sure, day("2027-05-01")), "now");
    }

    #[test]
    fn without_any_history_nothing_is_foretold() {
        assert!(looks(&[], &lives(&[])).is_empty());
        assert!(looks(&[], &lives(&[PairFacts::default()])).is_empty());
    }
}
