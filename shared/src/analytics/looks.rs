//! When the parts of a pair should be checked: forecast from a part's own wear if it was measured, otherwise from the
//! lives of the shop's other parts.

use serde::{Deserialize, Serialize};

use super::questions::Looks;
use crate::price::records::{At, JobFacts, PairFacts};
use crate::trade::Goods;
use crate::trade::formulas::day::Day;
use crate::wear::part_life::{Check, CheckBasis, PartLives, fitted, next_check, why_no_forecast};
use crate::wear::season::season;

/// A part that is on the pair, and when to check it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CheckForecast {
    /// The part, in words.
    pub part: String,
    /// The day; `None` if its thicknesses are known and forecast none.
    pub on: Option<CheckDay>,
    /// What the day is based on, or why there is none, in words.
    pub rests_on: String,
}

/// The day on which a part should be checked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CheckDay {
    /// The day, `YYYY-MM-DD`; never before today.
    pub day: String,
    /// The same in words: `spring 2027, between 3 March 2027 and 9 August 2027`.
    pub when: String,
}

/// When to check each part, the earliest first, then why none is forecast for others; empty if the question has no valid day.
pub(super) fn in_words(asked: &Looks, shop: &[PairFacts]) -> Vec<CheckForecast> {
    let Some(today) = Day::parse(&asked.today) else {
        return Vec::new();
    };
    let mut own = asked.own.clone();
    if let Some((job, now)) = asked.leaving {
        for one in own.iter_mut().filter(|one| one.job == job) {
            one.handed_over_at.get_or_insert(now);
        }
    }
    let mut all = checks(&own, &lives(shop), today);
    all.sort_by(|one, other| {
        let day = |forecast: &CheckForecast| forecast.on.as_ref().map(|on| on.day.clone());
        (day(one).is_none(), day(one)).cmp(&(day(other).is_none(), day(other)))
    });
    all
}

/// The observed lives of all parts in these records.
fn lives(pairs: &[PairFacts]) -> PartLives {
    let mut all = PartLives::default();
    for pair in pairs {
        let Some(goods) = pair.jobs.first().map(|job| &job.goods) else {
            continue;
        };
        all.add(goods, &fitted(&pair.jobs), seen(&pair.jobs));
    }
    all
}

/// The last day on which the pair was in the shop.
fn seen(jobs: &[JobFacts]) -> Option<Day> {
    let days = jobs.iter().flat_map(|job| [job.opened_at, job.handed_over_at]);
    days.flatten().filter_map(At::day).max()
}

fn checks(jobs: &[JobFacts], lives: &PartLives, today: Day) -> Vec<CheckForecast> {
    let goods = jobs.last().map_or(Goods::LowShoe, |job| job.goods.clone());
    let parts = fitted(jobs);
    let on = parts.iter().filter(|part| part.still_on());
    on.filter_map(|part| {
        let life = lives.life(&part.operation, &goods);
        let check = next_check(part, jobs, life.as_ref()).map(|check| check.told_on(today));
        let rests_on = match &check {
            Some(check) => rests_on(check.source),
            None => why_no_forecast(part, jobs)?,
        };
        Some(CheckForecast {
            part: part.part.words().to_owned(),
            on: check.map(|check| CheckDay {
                day: check.on.to_string(),
                when: when(&check, today),
            }),
            rests_on,
        })
    })
    .collect()
}

fn when(check: &Check, today: Day) -> String {
    let season = season(check.on, today);
    if check.from == check.until {
        return season;
    }
    words::wear::season_between_days(&season, &check.from.words(), &check.until.words())
}

fn rests_on(source: CheckBasis) -> String {
    match source {
        CheckBasis::Measured(count) => words::wear::by_measurements(count),
        CheckBasis::Lives(parts) => words::wear::by_lives_of_parts(parts),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_check_is_said_as_a_season_and_between_which_days() {
        let day = |text: &str| Day::parse(text).unwrap();
        let check = Check {
            on: day("2027-04-20"),
            from: day("2027-03-03"),
            until: day("2027-08-09"),
            source: CheckBasis::Lives(40),
        };
        assert_eq!(
            when(&check, day("2026-06-01")),
            "spring 2027, between 3 March 2027 and 9 August 2027"
        );
        let sure = Check {
            from: check.on,
            until: check.on,
            ..check
        };
        assert_eq!(when(&sure, day("2027-05-01")), "now");
    }
}
