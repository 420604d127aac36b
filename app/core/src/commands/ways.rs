//! The choices between repairs of one damage that are offered to a customer: the price of each, how long it lasts, and
//! its cost per year.

use shared::log::body::Choice;
use shared::log::body::OperationCode;
use shared::price::choices::{RepairChoice, Ways};
use shared::price::currency::Currency;
use shared::price::minor::Minor;
use shared::trade::formulas::Calculation;
use shared::trade::{operation, usual_life};

use crate::calc::number;
use crate::pair_history::months;

/// The greatest price of a choice, in minor units.
const MOST: Minor = Minor(1_000_000_000);
/// The longest life that can be stated, in months.
const LONGEST: u32 = 1_200;

/// What an hour of work should earn, and the tax on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hour {
    /// The earning without tax, in minor units.
    pub minor: Minor,
    /// The rate of tax, as in the shop's settings; only tax that prices include is added.
    pub tax: Option<i64>,
}

/// The usual attended minutes of an operation, the middle of the norm; empty for the shop's own operations.
pub fn usual_minutes(code: &str) -> String {
    operation(code).map_or_else(String::new, |known| {
        u32::midpoint(known.minutes.low, known.minutes.high).to_string()
    })
}

/// How long an operation usually lasts, in months; empty if no life can be stated.
pub fn usual_months(code: &str) -> String {
    usual_life(code).map_or_else(String::new, |months| months.to_string())
}

/// The price of minutes and material, in minor units of the currency in which the material is typed; an empty text
/// counts as 0.
///
/// # Errors
/// The label of the text that cannot be read: `Minutes` or `Material`.
pub fn worked_out(
    hour: Hour,
    currency: Currency,
    minutes: &str,
    material: &str,
) -> Result<Minor, &'static str> {
    let minutes = match minutes.trim() {
        "" => 0.0,
        typed => number(typed).ok_or_else(words::commands::ask_for_minutes)?,
    };
    let materials = amount(currency, material)
        .ok_or_else(words::commands::ask_for_material)?
        .as_f64();
    let way = RepairChoice {
        minutes,
        materials,
        life_months: 12.0,
    };
    let ways = Ways {
        choices: vec![way],
        rate_per_hour: hour.minor.as_f64(),
    };
    let cost = ways
        .calculate()
        .map_err(|_| words::commands::ask_for_minutes())?
        .cost;
    let inside = hour.tax.filter(|rate| *rate > 0).unwrap_or(0) as f64;
    let cost = cost.first().copied().unwrap_or(0.0) * (1_000.0 + inside) / 1_000.0;
    rounded(cost).ok_or_else(words::commands::ask_for_minutes)
}

/// A typed amount, in minor units; 0 for an empty text.
fn amount(currency: Currency, text: &str) -> Option<Minor> {
    if text.trim().is_empty() {
        return Some(Minor::ZERO);
    }
    currency.parse(text).filter(|minor| *minor <= MOST)
}

/// An amount as the text of a field; empty for 0.
pub fn typed(currency: Currency, minor: Minor) -> String {
    if minor == Minor::ZERO {
        String::new()
    } else {
        currency.format(minor)
    }
}

/// An amount rounded to whole minor units; `None` if it is too great.
fn rounded(minor: f64) -> Option<Minor> {
    (0.0..=1e12).contains(&minor).then(|| Minor::rounded(minor))
}

/// A choice as it was typed, with its price in a currency; `None` if nothing was typed.
///
/// # Errors
/// What cannot be read, in words.
pub fn choice(
    currency: Currency,
    say: &str,
    operation: Option<OperationCode>,
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
            Some(months.ok_or_else(words::commands::ask_for_months)?)
        }
    };
    Ok(Some(Choice {
        say: say.to_owned(),
        operation,
        price_minor: amount(currency, price).ok_or_else(words::commands::ask_for_price)?,
        life_months,
    }))
}

/// The cost per year of each choice, in minor units, in the given order, and the index of the cheapest one. The cost is
/// `None` if no life was stated, or the choice costs nothing.
pub fn a_year(choices: &[Choice]) -> (Vec<Option<Minor>>, Option<usize>) {
    let lasting: Vec<(usize, RepairChoice)> = choices
        .iter()
        .enumerate()
        .filter(|(_, choice)| (Minor(1)..=MOST).contains(&choice.price_minor))
        .filter_map(|(at, choice)| {
            let way = RepairChoice {
                minutes: 0.0,
                materials: choice.price_minor.as_f64(),
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
    let Ok(costs) = ways.calculate() else {
        return (years, None);
    };
    for ((at, _), year) in lasting.iter().zip(&costs.cost_per_year) {
        years[*at] = rounded(*year);
    }
    let least = costs.order.first().and_then(|first| lasting.get(*first));
    let least = least.filter(|_| lasting.len() > 1).map(|(at, _)| *at);
    (years, least)
}

/// One sentence about each choice, for the customer; `money` puts an amount into words.
pub fn sentences(choices: &[Choice], money: impl Fn(Minor) -> String) -> Vec<String> {
    let (years, _) = a_year(choices);
    let sentence = |(choice, year): (&Choice, Option<Minor>)| {
        let price = match choice.price_minor {
            Minor::ZERO => words::commands::no_charge().to_owned(),
            minor => money(minor),
        };
        let lasts = choice.life_months.map(|all| months(i64::from(all)));
        match (lasts, year) {
            (Some(lasts), Some(year)) => {
                words::commands::repair_choice_with_cost_a_year(&choice.say, &price, &lasts, &money(year))
            }
            (Some(lasts), None) => words::commands::repair_choice_lasting(&choice.say, &price, &lasts),
            (None, _) => words::commands::repair_choice(&choice.say, &price),
        }
    };
    choices.iter().zip(years).map(sentence).collect()
}

#[cfg(test)]
mod tests;
