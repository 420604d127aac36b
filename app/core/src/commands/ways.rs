//! Two or three ways to make a damage good, as a customer chooses between them: what each costs, how long it lasts, and
//! what a year of it comes to.

use shared::log::body::Choice;
use shared::price::choices::{RepairChoice, Ways};
use shared::price::currency::Currency;
use shared::trade::formulas::Calculation;
use shared::trade::{operation, usual_life};

use crate::calc::number;
use crate::pair_history::months;

/// More than this no way costs, in minor units.
const MOST: i64 = 1_000_000_000;
/// The longest that anything is said to last, in months.
const LONGEST: u32 = 1_200;

/// What an hour should earn, and what the customer pays on top of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hour {
    /// Without tax, in minor units.
    pub minor: i64,
    /// The rate of tax, as the shop has it: only what is in its prices is put on.
    pub tax: Option<i64>,
}

/// Attended minutes of an operation, in the middle of what is usual; empty for the shop's own.
pub fn usual_minutes(code: &str) -> String {
    operation(code).map_or_else(String::new, |known| {
        u32::midpoint(known.minutes.low, known.minutes.high).to_string()
    })
}

/// How long an operation usually lasts, in months; empty where nobody can say.
pub fn usual_months(code: &str) -> String {
    usual_life(code).map_or_else(String::new, |months| months.to_string())
}

/// What minutes and material come to, in minor units of the currency it is typed in; nothing is read as none.
///
/// # Errors
/// Which of the two is no such thing, in words: `Minutes`, `Material`.
pub fn worked_out(
    hour: Hour,
    currency: Currency,
    minutes: &str,
    material: &str,
) -> Result<i64, &'static str> {
    let minutes = match minutes.trim() {
        "" => 0.0,
        typed => number(typed).ok_or(MINUTES)?,
    };
    let materials = amount(currency, material).ok_or(MATERIAL)? as f64;
    let way = RepairChoice {
        minutes,
        materials,
        life_months: 12.0,
    };
    let ways = Ways {
        choices: vec![way],
        rate_per_hour: hour.minor as f64,
    };
    let cost = ways.reckon().map_err(|_| MINUTES)?.cost;
    let inside = hour.tax.filter(|rate| *rate > 0).unwrap_or(0) as f64;
    let cost = cost.first().copied().unwrap_or(0.0) * (1_000.0 + inside) / 1_000.0;
    rounded(cost).ok_or(MINUTES)
}

const MINUTES: &str = "Minutes: a number from 0 to 100000.";
const MATERIAL: &str = "Material: an amount like 3.50.";
const MONTHS: &str = "How long it lasts: whole months, 1 to 1200, or nothing.";
const PRICE: &str = "Price: an amount like 45.50, or nothing for no charge.";

/// An amount as it is typed, in minor units; nothing is 0.
fn amount(currency: Currency, text: &str) -> Option<i64> {
    if text.trim().is_empty() {
        return Some(0);
    }
    currency.parse(text).filter(|minor| *minor <= MOST)
}

/// An amount as it stands in a field; nothing for 0.
pub fn typed(currency: Currency, minor: i64) -> String {
    if minor == 0 {
        String::new()
    } else {
        currency.format(minor)
    }
}

/// To whole minor units; `None` for more than any price.
fn rounded(minor: f64) -> Option<i64> {
    let whole = minor.round();
    #[expect(clippy::cast_possible_truncation, reason = "whole and far below 2^53")]
    (0.0..=1e12).contains(&whole).then_some(whole as i64)
}

/// A way as it was written, its price in a currency, to be asked about; `None` for one that says nothing.
///
/// # Errors
/// What cannot be so, in words.
pub fn choice(
    currency: Currency,
    say: &str,
    code: &str,
    price: &str,
    lasts: &str,
) -> Result<Option<Choice>, &'static str> {
    let say = say.trim();
    if say.is_empty() {
        return Ok(None);
    }
    let life_months = match lasts.trim() {
        "" => None,
        typed => {
            let months = typed.parse().ok().filter(|months| (1..=LONGEST).contains(months));
            Some(months.ok_or(MONTHS)?)
        }
    };
    Ok(Some(Choice {
        say: say.to_owned(),
        operation: code.to_owned(),
        price_minor: amount(currency, price).ok_or(PRICE)?,
        life_months,
    }))
}

/// What a year of each costs, in minor units, in the order given, and which costs least a year; `None` for those of which
/// nobody said how long they last, and for those that cost nothing.
pub fn a_year(choices: &[Choice]) -> (Vec<Option<i64>>, Option<usize>) {
    let lasting: Vec<(usize, RepairChoice)> = choices
        .iter()
        .enumerate()
        .filter(|(_, choice)| (1..=MOST).contains(&choice.price_minor))
        .filter_map(|(at, choice)| {
            let way = RepairChoice {
                minutes: 0.0,
                materials: choice.price_minor as f64,
                life_months: f64::from(choice.life_months?),
            };
            Some((at, way))
        })
        .collect();
    let ways = Ways {
        choices: lasting.iter().map(|(_, way)| *way).collect(),
        rate_per_hour: 0.0,
    };
    let mut years = vec![None; choices.len()];
    let Ok(costs) = ways.reckon() else {
        return (years, None);
    };
    for ((at, _), year) in lasting.iter().zip(&costs.cost_per_year) {
        years[*at] = rounded(*year);
    }
    let least = costs.order.first().and_then(|first| lasting.get(*first));
    let least = least.filter(|_| lasting.len() > 1).map(|(at, _)| *at);
    (years, least)
}

/// What a customer reads of each way, a sentence each; `money` says an amount.
pub fn sentences(choices: &[Choice], money: impl Fn(i64) -> String) -> Vec<String> {
    let (years, _) = a_year(choices);
    let sentence = |(choice, year): (&Choice, Option<i64>)| {
        let price = match choice.price_minor {
            0 => "no charge".to_owned(),
            minor => money(minor),
        };
        let lasts = choice.life_months.map_or_else(String::new, |all| {
            [", lasts about ", &months(i64::from(all))].concat()
        });
        let year = year.map_or_else(String::new, |year| [", ", &money(year), " a year"].concat());
        [&choice.say, ": ", &price, &lasts, &year, "."].concat()
    };
    choices.iter().zip(years).map(sentence).collect()
}

#[cfg(test)]
mod tests;
