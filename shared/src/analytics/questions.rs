//! The questions that analytics answers.

use serde::{Deserialize, Serialize};

use super::shop::ShopSettings;
use crate::log::body::OperationCode;
use crate::log::entry::{SubjectId, UnixMs};
use crate::log::received::ReceivedEntry;
use crate::price::minor::Minor;
use crate::price::records::{At, JobFacts};
use crate::trade::{Construction, Goods};
use crate::week::Job;

/// What the lines of the price list take, carry and earn. The answer is a list of [`ProfitabilityLine`](super::ProfitabilityLine).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ProfitabilityQuery {
    /// The settings of the shop.
    pub shop: ShopSettings,
    /// The kind of goods.
    pub goods: Goods,
    /// The operations.
    pub codes: Vec<OperationCode>,
    /// Whether operations without a finished job are included.
    pub norms: bool,
}

/// How often each part that an operation opens is found damaged. The answer is a list of [`HiddenDamageRate`](super::HiddenDamageRate).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HiddenDamageQuery {
    /// The settings of the shop.
    pub shop: ShopSettings,
    /// The kind of goods.
    pub goods: Goods,
    /// The operation.
    pub code: OperationCode,
    /// The construction as it was guessed at the counter.
    pub guessed: Option<Construction>,
}

/// How the rows of the books are grouped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum By {
    /// By month, earliest first.
    Month,
    /// By operation.
    Operation,
    /// By construction.
    Construction,
    /// By the person who did the work.
    Person,
}

/// The books of some months. The answer is [`BooksTable`](super::BooksTable).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TheBooks {
    /// The settings of the shop.
    pub shop: ShopSettings,
    /// `YYYY-MM`, newest first.
    pub months: Vec<String>,
    /// How rows are grouped.
    pub by: By,
}

/// A pair while its price is being agreed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PairOffered {
    /// Its kind of goods.
    pub goods: Goods,
    /// The construction as it was guessed.
    pub guessed: Option<Construction>,
    /// Operations with their prices, in minor units.
    pub lines: Vec<(OperationCode, Minor)>,
}

/// The probability that agreed prices do not meet the target. Statistics of the rows that come with the question are
/// kept for later questions without rows. The answer is a list with a number from 0 to 1, or null, for each pair.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Loss {
    /// The settings of the shop.
    pub shop: ShopSettings,
    /// The pairs.
    pub pairs: Vec<PairOffered>,
}

/// What the work that had to be done again is grouped by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum RedoneBy {
    /// By operation.
    Operation,
    /// By the cement of the step.
    Cement,
    /// By the material of the sole.
    Sole,
    /// By the person who did it.
    Person,
}

/// How much of the work had to be done again. The answer is [`RedoneShares`](super::RedoneShares).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RedoneQuery {
    /// The settings of the shop.
    pub shop: ShopSettings,
    /// How it is grouped.
    pub by: RedoneBy,
}

/// The attended minutes of a job, from the whole days on which people worked on it. The answer is a list of operations
/// with their minutes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Took {
    /// The job.
    pub job: SubjectId,
}

/// When the parts of a pair should be checked. The answer is a list of [`CheckForecast`](super::CheckForecast), the earliest
/// first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Looks {
    /// What the books keep of the pair's own jobs.
    pub own: Vec<JobFacts>,
    /// The job that is about to leave the shop, and when.
    pub leaving: Option<(SubjectId, At)>,
    /// Today, `YYYY-MM-DD`.
    pub today: String,
}

/// The time and place of the question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Here {
    /// The moment.
    pub now: UnixMs,
    /// The time zone of the device, a name of the IANA time zone database; empty if it is not known.
    pub zone: String,
    /// The offset of the device from UTC, in minutes east of Greenwich.
    pub offset_min: i16,
}

/// What to do now. Statistics of its rows are kept as for [`Loss`]. The answer is [`WeekPlan`](crate::week::WeekPlan).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TheRun {
    /// The settings of the shop.
    pub shop: ShopSettings,
    /// The time and place of the question.
    pub here: Here,
    /// The log of every pair that is in the shop, and of those that left it within [`PAIRS_BACK_MS`].
    pub pairs: Vec<PairLog>,
    /// Whether the device has the whole log; the plan is preliminary until then.
    pub whole: bool,
}

/// The log of a pair.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PairLog {
    /// The pair, by any of its ids.
    pub pair: SubjectId,
    /// Every entry about the pair, its jobs and their tickets, in any order.
    pub entries: Vec<ReceivedEntry>,
}

/// For so long, in ms, pairs that have left the shop belong to the plan of the day: longer than from one opening of the shop
/// to the next over a long weekend.
pub const PAIRS_BACK_MS: i64 = 5 * 24 * 3_600_000;

/// Which day to promise. Statistics of its rows are kept as for [`Loss`]. The answer is
/// [`DayChoices`](crate::week::DayChoices).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TheDays {
    /// The settings of the shop.
    pub shop: ShopSettings,
    /// The time and place of the question.
    pub here: Here,
    /// As for [`TheRun`].
    pub jobs: Vec<Job>,
    /// The jobs that are brought now; empty to ask only for the load of the days.
    pub new: Vec<Job>,
}

/// A question that can be sent to the worker.
pub trait AnalyticsQuery: Serialize {
    /// Its name on the wire.
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
    RedoneQuery = "redone",
    Took = "took",
    Looks = "looks",
    TheRun = "run",
    TheDays = "days",
}

/// The name and the text of a question with these rows.
pub fn question<Q: AnalyticsQuery>(asked: &Q, rows: &[String]) -> (&'static str, String) {
    // The types of questions have string keys and serialisers that do not fail.
    let mut text = serde_json::to_string(asked).unwrap_or_default();
    for row in rows {
        text.push('\n');
        text.push_str(row);
    }
    (Q::NAME, text)
}
