//! The questions.

use serde::{Deserialize, Serialize};

use super::shop::ShopSettings;
use crate::log::entry::{SubjectId, UnixMs};
use crate::price::records::{At, JobFacts};
use crate::trade::{Construction, Goods};
use crate::week::Job;

/// What the lines of the price list really take, carry and earn. Answered with a list of [`LineTold`](super::LineTold).
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

/// How often each part of an operation is found damaged. Answered with a list of [`PartTold`](super::PartTold).
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

/// The books of some months. Answered with [`BooksTold`](super::BooksTold).
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

/// When the parts of a pair should be looked at. Answered with a list of [`LookTold`](super::LookTold), the earliest first.
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
