//! Prices in words: what a line takes, carries and earns; the damage it finds; whether an agreed price is too low.

use serde::{Deserialize, Serialize};

use super::questions::{HiddenDamageQuery, Loss, PairOffered, ProfitabilityQuery};
use super::shop::{money, of_ten, with_setting};
use crate::log::body::OperationCode;
use crate::log::fold::ShopState;
use crate::price::allowance::Beta;
use crate::price::job_statistics::JobStatistics;
use crate::price::minor::Minor;
use crate::price::profitability;
use crate::trade::Component;

/// A line of the price list.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ProfitabilityLine {
    /// The operation.
    pub code: OperationCode,
    /// The number of finished jobs it is based on; 0 if it is based on norms only.
    pub jobs: u32,
    /// The findings, one sentence each.
    pub told: Vec<String>,
    /// The price that meets the hourly target in four of five jobs, in minor units; `None` without a target.
    pub needed: Option<Minor>,
}

/// A part, and in how many of ten such pairs it is damaged.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HiddenDamageRate {
    /// The part.
    pub part: Component,
    /// The mean.
    pub of_ten: f64,
    /// Its 95 % interval.
    pub between: [f64; 2],
    /// The repairer's own estimate.
    pub said: Option<f64>,
}

/// The lines asked for, those done most often first.
pub(super) fn lines(
    asked: &ProfitabilityQuery,
    statistics: &JobStatistics,
    shop: &ShopState,
) -> Vec<ProfitabilityLine> {
    let mut codes: Vec<(usize, &OperationCode)> = asked
        .codes
        .iter()
        .map(|code| (statistics.samples(code, &asked.goods).count(), code))
        .filter(|(jobs, _)| *jobs > 0 || asked.norms)
        .collect();
    codes.sort_by_key(|(jobs, _)| std::cmp::Reverse(*jobs));
    with_setting(shop, |setting| {
        let line = |(_, code): (usize, &OperationCode)| match statistics.profitability(
            code,
            &asked.goods,
            setting,
        ) {
            Ok(profitability) => ProfitabilityLine {
                code: code.clone(),
                jobs: profitability.jobs,
                told: sentences(&profitability, shop),
                needed: profitability.needed,
            },
            Err(refused) => ProfitabilityLine {
                code: code.clone(),
                jobs: 0,
                told: vec![refused.to_string()],
                needed: None,
            },
        };
        codes.into_iter().map(line).collect()
    })
}

fn sentences(profitability: &profitability::Profitability, shop: &ShopState) -> Vec<String> {
    let money = |minor| money(shop, minor);
    let rests = match profitability.jobs {
        0 => words::analytics::norms_only().to_owned(),
        jobs => words::analytics::rests_on_jobs(jobs),
    };
    let mut all = vec![
        rests,
        words::analytics::takes_minutes(profitability.minutes.p50, profitability.minutes.p90),
    ];
    if profitability.materials.is_positive() {
        all.push(words::analytics::material_costs(&money(profitability.materials)));
    }
    if profitability.carried_minutes > 0.0 || profitability.carried_worth.is_positive() {
        let worth = money(profitability.carried_worth);
        all.push(words::analytics::carried_needed_work(
            profitability.carried_minutes,
            &worth,
        ));
    }
    if let Some(minor) = profitability.allowance.filter(Minor::is_positive) {
        all.push(words::analytics::hidden_damage_expected(&money(minor)));
    }
    if profitability.given_minutes > 0.0 || profitability.given_worth.is_positive() {
        let worth = money(profitability.given_worth);
        all.push(words::analytics::given_by_choice(
            profitability.given_minutes,
            &worth,
        ));
    }
    if let Some(minor) = profitability.earned_per_hour {
        all.push(words::analytics::hour_earned(&money(minor)));
    }
    all
}

/// The parts that an operation opens, with their rates of damage.
pub(super) fn parts(
    asked: &HiddenDamageQuery,
    statistics: &JobStatistics,
    shop: &ShopState,
) -> Vec<HiddenDamageRate> {
    let guessed = asked.guessed.as_ref();
    let rates = with_setting(shop, |setting| {
        statistics.hidden(&asked.code, guessed, &asked.goods, setting.stated_rates)
    });
    let part = |(part, rate): (Component, Beta)| HiddenDamageRate {
        of_ten: rate.mean() * 10.0,
        between: [rate.quantile(0.025) * 10.0, rate.quantile(0.975) * 10.0],
        said: of_ten(shop, &asked.code, guessed, &part),
        part,
    };
    rates.into_iter().map(part).collect()
}

/// The probability for each pair that its prices do not meet the target.
pub(super) fn losses(asked: &Loss, statistics: &JobStatistics, shop: &ShopState) -> Vec<Option<f64>> {
    with_setting(shop, |setting| {
        let chance = |pair: &PairOffered| {
            let lines: Vec<(&str, Minor)> = pair
                .lines
                .iter()
                .map(|(code, minor)| (code.as_str(), *minor))
                .collect();
            if lines.is_empty() {
                return None;
            }
            statistics
                .loss_chance(&lines, pair.guessed.as_ref(), &pair.goods, setting)
                .ok()?
        };
        asked.pairs.iter().map(chance).collect()
    })
}
