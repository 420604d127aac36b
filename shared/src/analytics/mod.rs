//! What a phone asks of all its records at once, and what it is answered: the truth of prices, what work hides, the books,
//! minutes, the next check.
//!
//! It is asked apart from the page, by a worker that holds this code and not the app: the first screen does not wait for
//! it, and the page never stands still while it reckons. So a question is one text: the question itself on the first line,
//! then the rows of the pairs it is asked of, one a line, as the phone keeps them. Answers are JSON, in words as far as a
//! person reads them.

mod answer;
mod books;
mod ledger;
mod looks;
mod prices;
mod questions;
mod shop;

pub use answer::answer;
pub use books::{BooksTold, RowTold};
pub use ledger::{ENOUGH, MONTHS_BACK, months_back};
pub use looks::LookTold;
pub use prices::{LineTold, PartTold};
pub use questions::{
    AnalyticsQuery, By, Here, HiddenDamageQuery, Looks, Loss, PairOffered, ProfitabilityQuery, TheBooks,
    TheDays, TheRun, Took, question,
};
pub use shop::{ShopSettings, of_ten};

#[cfg(test)]
mod tests;
