//! What a drop-off still lacks, in words, and where on the screen it is asked.

use shared::trade::operations;

/// Something without which a ticket cannot be written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}{what}", pair.map_or_else(String::new, |pair| format!("Pair {}: ", pair + 1)))]
pub struct Missing {
    /// Which pair lacks it, from 0; `None` for the ticket.
    pub pair: Option<usize>,
    /// What it is.
    pub what: DropOffField,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DropOffField {
    /// At least one operation.
    #[error("the work is missing. Tap what is to be done, or take the pair off again.")]
    Work,
    /// The price of a line.
    #[error(
        "{}: {}, for example 45 or 45.50.",
        operations::name(operation),
        no_price(typed)
    )]
    Price {
        /// Which line, from 0.
        line: usize,
        /// Its operation.
        operation: String,
        /// What stands there instead; empty if nothing does.
        typed: String,
    },
    /// The day promised.
    #[error("The day is missing.")]
    Day,
    /// The most that hidden damage may cost.
    #[error("How much may it cost if something hidden turns up? For example 20.")]
    UpTo,
    /// The amount left as a deposit.
    #[error("How much is the deposit? For example 20.")]
    Deposit,
    /// A deposit that is no more than everything comes to.
    #[error("The deposit is more than the total.")]
    LessDeposit,
}

/// Why what was typed is no price.
fn no_price(typed: &str) -> String {
    match typed.trim() {
        "" => "the price is missing".to_owned(),
        typed => format!("\u{201c}{typed}\u{201d} is not a price"),
    }
}

impl Missing {
    pub(super) fn on_ticket(what: DropOffField) -> Self {
        Self { pair: None, what }
    }

    /// The id of the element where it is asked.
    pub fn element(&self) -> String {
        match (&self.what, self.pair) {
            (DropOffField::Price { line, .. }, Some(pair)) => price_id(pair, *line),
            (DropOffField::Work, Some(pair)) => work_id(pair),
            (DropOffField::UpTo, _) => UP_TO.to_owned(),
            (DropOffField::Deposit | DropOffField::LessDeposit, _) => DEPOSIT.to_owned(),
            _ => DAY.to_owned(),
        }
    }
}

/// The id of the field of the day promised.
pub const DAY: &str = "day";
/// The id of the field for the most that hidden damage may cost.
pub const UP_TO: &str = "up-to";
/// The id of the field for the deposit.
pub const DEPOSIT: &str = "deposit";

/// The id of a pair's choice of work.
pub fn work_id(pair: usize) -> String {
    format!("work-{pair}")
}

/// The id of the price of one line of a pair.
pub fn price_id(pair: usize, line: usize) -> String {
    format!("price-{pair}-{line}")
}
