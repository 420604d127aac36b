//! Questions over all records of a phone, and their answers: profitability of the price list, hidden damage, the books,
//! minutes, the next check, work that had to be done again, and the plan.
//!
//! They are answered in a worker that contains this code and not the app: the first screen does not wait for it, and
//! the page stays responsive during calculations. A question is therefore one text: the question itself as JSON on the
//! first line, then the stored rows of the pairs it is about, one in each line. Answers are JSON; what a person reads
//! is already in words.

mod answer;
mod books;
mod ledger;
mod looks;
mod prices;
mod questions;
mod redone;
mod shop;

pub use answer::answer;
pub use books::{BooksTable, BooksTableRow};
pub use ledger::{ENOUGH, MONTHS_BACK, months_back};
pub use looks::{CheckDay, CheckForecast};
pub use prices::{HiddenDamageRate, ProfitabilityLine};
pub use questions::{
    AnalyticsQuery, By, Here, HiddenDamageQuery, Looks, Loss, PAIRS_BACK_MS, PairLog, PairOffered,
    ProfitabilityQuery, RedoneBy, RedoneQuery, TheBooks, TheDays, TheRun, Took, question,
};
pub use redone::{FEWEST_DONE, RedoneShare, RedoneShares};
pub use shop::{ShopSettings, of_ten};

#[cfg(test)]
mod tests;
