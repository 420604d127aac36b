//! The questions, and who answers them.

use std::cell::RefCell;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::books::{self, BooksTold};
use super::ledger::{PairLedger, rows};
use super::looks::{self, LookTold};
use super::prices::{self, LineTold, PartTold};
use super::shop::ShopSettings;
use crate::log::entry::{SubjectId, UnixMs};
use crate::log::fold::State;
use crate::price::job_statistics::JobStatistics;
use crate::price::records::{At, JobFacts};
use crate::trade::{Construction, Goods};
use crate::week::Job;

/// What the lines of the price list really take, carry and earn. Answered with a list of [`LineTold`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ProfitabilityQuery {
    /// What the shop has set.
    pub shop: ShopSettings,
    /// On which kind of goods.
    pub goods: Goods,
    /// The operations in question.
    pub codes: Vec<String>,
    /// Also those that no finished job is of.
    pub norms: bool,
}

/// How often each part of an operation is found damaged. Answered with a list of [`PartTold`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HiddenDamageQuery {
    /// What the shop has set.
    pub shop: ShopSettings,
    /// On which kind of goods.
    pub goods: Goods,
    /// The operation.
    pub code: String,
    /// How it is made, as guessed at the counter.
    pub guessed: Option<Construction>,
}

/// By what the rows of the books are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum By {
    /// Months, oldest first.
    Month,
    /// Operations.
    Operation,
    /// Constructions.
    Construction,
    /// Who did it.
    Person,
}

/// The books of some months. Answered with [`BooksTold`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TheBooks {
    /// What the shop has set.
    pub shop: ShopSettings,
    /// `YYYY-MM`, newest first.
    pub months: Vec<String>,
    /// What a row is of.
    pub by: By,
}

/// A pair as its price is being agreed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PairOffered {
    /// Its kind of goods.
    pub goods: Goods,
    /// How it is made, as guessed.
    pub guessed: Option<Construction>,
    /// Operations, and what each is to cost, minor units.
    pub lines: Vec<(String, i64)>,
}

/// How likely agreed prices do not meet the target. With rows it learns from them, and keeps that for later questions
/// without. Answered with a number from 0 to 1 a pair, or null.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Loss {
    /// What the shop has set.
    pub shop: ShopSettings,
    /// The pairs.
    pub pairs: Vec<PairOffered>,
}

/// The attended minutes of a job, from the whole days on which somebody was at it. Answered with a list of operation and
/// minutes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Took {
    /// Which job.
    pub job: SubjectId,
}

/// When the parts of a pair should be looked at. Answered with a list of [`LookTold`], the earliest first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Looks {
    /// What the books know of the pair's own jobs.
    pub own: Vec<JobFacts>,
    /// A job that is about to leave, and when.
    pub leaving: Option<(SubjectId, At)>,
    /// Today, `YYYY-MM-DD`.
    pub today: String,
}

/// When and where it is asked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Here {
    /// The moment.
    pub now: UnixMs,
    /// The zone of the device, a name of the IANA time zone database; empty if it does not say.
    pub zone: String,
    /// Minutes the device is east of Greenwich.
    pub offset_min: i16,
}

/// What to do now. With rows it learns from them, as [`Loss`] does. Answered with
/// [`RunTold`](crate::week::RunTold).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TheRun {
    /// What the shop has set.
    pub shop: ShopSettings,
    /// When and where.
    pub here: Here,
    /// Every job in the shop with work left, and those that wait for somebody.
    pub jobs: Vec<Job>,
}

/// Which day to promise. With rows it learns from them, as [`Loss`] does. Answered with
/// [`DaysTold`](crate::week::DaysTold).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TheDays {
    /// What the shop has set.
    pub shop: ShopSettings,
    /// When and where.
    pub here: Here,
    /// As for [`TheRun`].
    pub jobs: Vec<Job>,
    /// What is brought now; empty for the load of the days alone.
    pub new: Vec<Job>,
}

/// A question that can be asked: its name on the wire.
pub trait AnalyticsQuery: Serialize {
    /// What it is called.
    const NAME: &'static str;
}

macro_rules! questions {
    ($($question:ty = $name:literal),+ $(,)?) => {
        $(impl AnalyticsQuery for $question {
            const NAME: &'static str = $name;
        })+
    };
}

questions! {
    ProfitabilityQuery = "truth",
    HiddenDamageQuery = "hidden",
    TheBooks = "books",
    Loss = "loss",
    Took = "took",
    Looks = "looks",
    TheRun = "run",
    TheDays = "days",
}

/// A question as text, and its name.
pub fn question<Q: AnalyticsQuery>(asked: &Q, rows: &[String]) -> (&'static str, String) {
    // The types of a question have string keys and no failing serialisers.
    let mut text = serde_json::to_string(asked).unwrap_or_default();
    for row in rows {
        text.push('\n');
        text.push_str(row);
    }
    (Q::NAME, text)
}

thread_local! {
    /// What was learnt for the last question that brought rows.
    static LEARNT: RefCell<Option<JobStatistics>> = const { RefCell::new(None) };
}

/// Answers a question by its name.
///
/// # Errors
/// Why there is no answer, in words: an unknown name, a text that is none, or what cannot be reckoned with.
pub fn answer(name: &str, text: &str) -> Result<String, String> {
    let (asked, rest) = text.split_once('\n').unwrap_or((text, ""));
    match name {
        ProfitabilityQuery::NAME => told(&truth(&read(asked)?, rest)),
        HiddenDamageQuery::NAME => told(&hidden(&read(asked)?, rest)),
        TheBooks::NAME => told(&the_books(&read(asked)?, rest)),
        Loss::NAME => told(&loss(&read(asked)?, rest)),
        Took::NAME => told(&took(&read(asked)?, rest)),
        Looks::NAME => told(&the_looks(&read(asked)?, rest)),
        #[cfg(feature = "zones")]
        TheRun::NAME => told(&planning::run(read(asked)?, rest)),
        #[cfg(feature = "zones")]
        TheDays::NAME => told(&planning::days(read(asked)?, rest)),
        other => Err(format!("there is no question called {other}")),
    }
}

fn read<T: DeserializeOwned>(text: &str) -> Result<T, String> {
    serde_json::from_str(text).map_err(|error| error.to_string())
}

fn told<T: Serialize>(answer: &T) -> Result<String, String> {
    serde_json::to_string(answer).map_err(|error| error.to_string())
}

fn truth(asked: &ProfitabilityQuery, text: &str) -> Vec<LineTold> {
    let shop = asked.shop.state();
    let experience = PairLedger::of(rows(text)).experience(&shop);
    prices::lines(asked, &experience, &shop)
}

fn hidden(asked: &HiddenDamageQuery, text: &str) -> Vec<PartTold> {
    let shop = asked.shop.state();
    let experience = PairLedger::of(rows(text)).experience(&shop);
    prices::parts(asked, &experience, &shop)
}

fn the_books(asked: &TheBooks, text: &str) -> BooksTold {
    books::told(asked, &PairLedger::of(rows(text)))
}

fn loss(asked: &Loss, text: &str) -> Vec<Option<f64>> {
    let shop = asked.shop.state();
    learning(&shop, text, |experience| prices::losses(asked, experience, &shop))
}

/// What was learnt, from these rows if there are any, else before.
fn learning<T>(shop: &State, text: &str, ask: impl FnOnce(&JobStatistics) -> T) -> T {
    LEARNT.with_borrow_mut(|learnt| {
        if !text.is_empty() {
            *learnt = Some(PairLedger::of(rows(text)).experience(shop));
        }
        ask(learnt.get_or_insert_with(|| PairLedger::default().experience(shop)))
    })
}

#[cfg(feature = "zones")]
mod planning {
    //! The questions of the week.

    use super::{Here, JobStatistics, State, TheDays, TheRun, learning};
    use crate::analytics::shop::of_ten;
    use crate::week::{DaysTold, RunTold, WeekInput, days_told, run_told};

    pub(super) fn run(asked: TheRun, text: &str) -> RunTold {
        let shop = asked.shop.state();
        learning(&shop, text, |experience| {
            given(&shop, &asked.here, experience, |given| {
                run_told(asked.jobs, given)
            })
        })
    }

    pub(super) fn days(asked: TheDays, text: &str) -> DaysTold {
        let shop = asked.shop.state();
        learning(&shop, text, |experience| {
            given(&shop, &asked.here, experience, |given| {
                days_told(asked.jobs, asked.new, given)
            })
        })
    }

    fn given<T>(
        shop: &State,
        here: &Here,
        experience: &JobStatistics,
        ask: impl FnOnce(&WeekInput<'_>) -> T,
    ) -> T {
        ask(&WeekInput {
            shop,
            experience,
            said: &|code, guessed, part| of_ten(shop, code, guessed, part),
            now: here.now,
            zone: &here.zone,
            offset_min: here.offset_min,
        })
    }
}

fn took(asked: &Took, text: &str) -> Vec<(String, f64)> {
    let attended = PairLedger::of(rows(text)).attended;
    let own = attended.into_iter().filter(|one| one.job == asked.job);
    own.map(|one| (one.operation, one.minutes)).collect()
}

fn the_looks(asked: &Looks, text: &str) -> Vec<LookTold> {
    looks::told(asked, &rows(text))
}
