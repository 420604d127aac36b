//! Answers each question by its name.

use std::cell::RefCell;

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::books::{self, BooksTable};
use super::ledger::{PairLedger, rows};
use super::looks::{self, CheckForecast};
use super::prices::{self, HiddenDamageRate, ProfitabilityLine};
use super::questions::{
    AnalyticsQuery, HiddenDamageQuery, Looks, Loss, ProfitabilityQuery, RedoneQuery, TheBooks, Took,
};
#[cfg(feature = "zones")]
use super::questions::{TheDays, TheRun};
use super::redone::{self, RedoneShares};
use crate::log::body::OperationCode;
use crate::log::fold::ShopState;
use crate::price::job_statistics::JobStatistics;

thread_local! {
    /// What the last question that brought rows taught, and how many questions have brought any.
    static LEARNT: RefCell<Option<Learnt>> = const { RefCell::new(None) };
}

/// What the rows of a question taught.
struct Learnt {
    ledger: PairLedger,
    /// Its statistics, and the settings with which they were made: what materials cost is in them.
    statistics: Option<(ShopState, JobStatistics)>,
    #[cfg_attr(
        not(feature = "zones"),
        allow(dead_code, reason = "only the plan asks for it")
    )]
    number: u64,
}

impl Learnt {
    /// The statistics with these settings. They are made again where a question has other ones than that before it: the
    /// plan does not read the shelf, and so does not know what its materials cost.
    fn statistics(&mut self, shop: &ShopState) -> &JobStatistics {
        let known = self.statistics.take().filter(|(of, _)| of == shop);
        let known = known.unwrap_or_else(|| (shop.clone(), self.ledger.statistics(shop)));
        &self.statistics.insert(known).1
    }
}

/// Answers a question by its name.
///
/// # Errors
/// Why there is no answer, in words: an unknown name, text that is not a question, or fields that are out of range.
pub fn answer(name: &str, text: &str) -> Result<String, String> {
    let (asked, rest) = text.split_once('\n').unwrap_or((text, ""));
    match name {
        ProfitabilityQuery::NAME => to_json(&profitability(&read(asked)?, rest)),
        HiddenDamageQuery::NAME => to_json(&hidden(&read(asked)?, rest)),
        TheBooks::NAME => to_json(&the_books(&read(asked)?, rest)),
        Loss::NAME => to_json(&loss(&read(asked)?, rest)),
        RedoneQuery::NAME => to_json(&redone_shares(&read(asked)?, rest)),
        Took::NAME => to_json(&took(&read(asked)?, rest)),
        Looks::NAME => to_json(&the_looks(&read(asked)?, rest)),
        #[cfg(feature = "zones")]
        TheRun::NAME => to_json(&planning::run(&read(asked)?, rest)),
        #[cfg(feature = "zones")]
        TheDays::NAME => to_json(&planning::days(read(asked)?, rest)),
        other => Err(format!("there is no question called {other}")),
    }
}

fn read<T: DeserializeOwned>(text: &str) -> Result<T, String> {
    serde_json::from_str(text).map_err(|error| error.to_string())
}

fn to_json<T: Serialize>(answer: &T) -> Result<String, String> {
    serde_json::to_string(answer).map_err(|error| error.to_string())
}

fn profitability(asked: &ProfitabilityQuery, text: &str) -> Vec<ProfitabilityLine> {
    let shop = asked.shop.state();
    let statistics = PairLedger::of(rows(text)).statistics(&shop);
    prices::lines(asked, &statistics, &shop)
}

fn hidden(asked: &HiddenDamageQuery, text: &str) -> Vec<HiddenDamageRate> {
    let shop = asked.shop.state();
    let statistics = PairLedger::of(rows(text)).statistics(&shop);
    prices::parts(asked, &statistics, &shop)
}

fn the_books(asked: &TheBooks, text: &str) -> BooksTable {
    books::in_words(asked, &PairLedger::of(rows(text)))
}

fn redone_shares(asked: &RedoneQuery, text: &str) -> RedoneShares {
    redone::shares(asked, &PairLedger::of(rows(text)).jobs)
}

fn loss(asked: &Loss, text: &str) -> Vec<Option<f64>> {
    let shop = asked.shop.state();
    learning(&shop, text, |statistics| prices::losses(asked, statistics, &shop))
}

/// Calls `ask` with the statistics of these rows or, if there are none, with the statistics kept from before.
fn learning<T>(shop: &ShopState, text: &str, ask: impl FnOnce(&JobStatistics) -> T) -> T {
    learnt(text, |learnt| ask(learnt.statistics(shop)))
}

/// The same with the ledger, and a number that differs if the ledger does.
#[cfg(feature = "zones")]
fn with_ledger<T>(text: &str, ask: impl FnOnce(&PairLedger, u64) -> T) -> T {
    learnt(text, |learnt| ask(&learnt.ledger, learnt.number))
}

fn learnt<T>(text: &str, ask: impl FnOnce(&mut Learnt) -> T) -> T {
    LEARNT.with_borrow_mut(|known| {
        let number = known.as_ref().map_or(0, |known| known.number);
        if !text.is_empty() {
            *known = None;
        }
        ask(known.get_or_insert_with(|| Learnt {
            ledger: PairLedger::of(rows(text)),
            statistics: None,
            number: number + 1,
        }))
    })
}

#[cfg(feature = "zones")]
mod planning {
    //! The questions of the week.

    use std::cell::RefCell;

    use super::{JobStatistics, ShopState, TheDays, TheRun, learning, with_ledger};
    use crate::analytics::questions::Here;
    use crate::analytics::shop::of_ten;
    use crate::log::entry::UnixMs;
    use crate::week::{DayChoices, DayFold, WeekInput, WeekPlan, days_told, opening, run_told};

    thread_local! {
        /// The plans of the day so far.
        static FOLD: RefCell<DayFold> = RefCell::new(DayFold::default());
        /// The statistics as they stood at an opening, with the number of the ledger they are of.
        static FROZEN: RefCell<Option<((u64, UnixMs), JobStatistics)>> = const { RefCell::new(None) };
    }

    pub(super) fn run(asked: &TheRun, text: &str) -> WeekPlan {
        let shop = asked.shop.state();
        let settings = serde_json::to_string(&asked.shop).unwrap_or_default();
        frozen(&shop, text, &asked.here, |statistics, known| {
            given(&shop, &asked.here, statistics, |given| {
                FOLD.with_borrow_mut(|fold| {
                    let pairs = asked.pairs.iter().map(|log| (log.pair, log.entries.as_slice()));
                    let day = fold.plan(pairs, given, &format!("{settings}{known}"));
                    WeekPlan {
                        preliminary: !asked.whole,
                        ..run_told(day, given)
                    }
                })
            })
        })
    }

    /// Calls `ask` with the statistics of the jobs that were finished when the shop opened, and with a number that differs
    /// if they do: what is learnt during the day would change the plan without anything having happened to it.
    fn frozen<T>(shop: &ShopState, text: &str, here: &Here, ask: impl FnOnce(&JobStatistics, u64) -> T) -> T {
        let opens = opening(shop, here.now, &here.zone, here.offset_min);
        with_ledger(text, |ledger, number| {
            FROZEN.with_borrow_mut(|frozen| {
                let frozen = match frozen {
                    Some(known) if known.0 == (number, opens) => known,
                    other => other.insert(((number, opens), ledger.finished_before(opens).statistics(shop))),
                };
                ask(&frozen.1, number)
            })
        })
    }

    pub(super) fn days(asked: TheDays, text: &str) -> DayChoices {
        let shop = asked.shop.state();
        learning(&shop, text, |statistics| {
            given(&shop, &asked.here, statistics, |given| {
                days_told(asked.jobs, asked.new, given)
            })
        })
    }

    fn given<T>(
        shop: &ShopState,
        here: &Here,
        statistics: &JobStatistics,
        ask: impl FnOnce(&WeekInput<'_>) -> T,
    ) -> T {
        ask(&WeekInput {
            shop,
            statistics,
            stated_rates: &|code, guessed, part| of_ten(shop, code, guessed, part),
            now: here.now,
            zone: &here.zone,
            offset_min: here.offset_min,
        })
    }
}

fn took(asked: &Took, text: &str) -> Vec<(Option<OperationCode>, f64)> {
    let attended = PairLedger::of(rows(text)).attended;
    let own = attended.into_iter().filter(|one| one.job == asked.job);
    own.map(|one| (one.operation, one.minutes)).collect()
}

fn the_looks(asked: &Looks, text: &str) -> Vec<CheckForecast> {
    looks::in_words(asked, &rows(text))
}
