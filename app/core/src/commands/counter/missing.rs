//! Required inputs of a drop-off that are missing: in words, and where the screen asks for them.

use shared::log::body::OperationCode;
use shared::trade::operations;

/// A required input that is missing.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}{what}", pair.map_or_else(String::new, |pair| format!("Pair {}: ", pair + 1)))]
pub struct Missing {
    /// The index of the pair, from 0; `None` for an input of the ticket.
    pub pair: Option<usize>,
    /// The input.
    pub what: DropOffField,
}

/// The inputs that can be missing.
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
        /// The index of the line, from 0.
        line: usize,
        /// Its operation.
        operation: OperationCode,
        /// The text typed instead of a price; empty if none.
        typed: String,
    },
    /// The promised day.
    #[error("The day is missing.")]
    Day,
    /// The most that hidden damage may cost.
    #[error("How much may it cost if something hidden turns up? For example 20.")]
    UpTo,
    /// The amount of the deposit.
    #[error("How much is the deposit? For example 20.")]
    Deposit,
    /// A deposit that is not more than the total.
    #[error("The deposit is more than the total.")]
    LessDeposit,
}

/// Why the typed text is not a price.
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

    /// The id of the screen element that asks for it.
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

/// The id of the field for the promised day.
pub const DAY: &str = "day";
/// The id of the field for the most that hidden damage may cost.
pub const UP_TO: &str = "up-to";
/// The id of the field for the deposit.
pub const DEPOSIT: &str = "deposit";

/// The id of a pair's list of operations.
pub fn work_id(pair: usize) -> String {
    format!("work-{pair}")
}

/// The id of the field for the price of one line of a pair.
pub fn price_id(pair: usize, line: usize) -> String {
    format!("price-{pair}-{line}")
}
