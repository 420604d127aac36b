//! Required inputs of a drop-off that are missing: in words, and where the screen asks for them.

/// A required input that is missing.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", of_pair(*.pair, .what))]
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
    #[error("{}", words::commands::work_is_missing())]
    Work,
    /// The price of a line.
    #[error("{}", no_price(.work, .typed))]
    Price {
        /// The index of the line, from 0.
        line: usize,
        /// The line in words.
        work: String,
        /// The text typed instead of a price; empty if none.
        typed: String,
    },
    /// The price of goods.
    #[error("{}", no_price(.what, .typed))]
    GoodsPrice {
        /// The index of the goods, from 0.
        at: usize,
        /// What they are.
        what: String,
        /// The text typed instead of a price; empty if none.
        typed: String,
    },
    /// The promised day.
    #[error("{}", words::commands::day_is_missing())]
    Day,
    /// The most that hidden damage may cost.
    #[error("{}", words::commands::ask_for_most_that_hidden_may_cost())]
    UpTo,
    /// The amount of the deposit.
    #[error("{}", words::commands::ask_for_deposit())]
    Deposit,
    /// A deposit that is not more than the total.
    #[error("{}", words::commands::deposit_above_total())]
    LessDeposit,
}

/// What is missing, after the number of its pair; `pair` is its index.
fn of_pair(pair: Option<usize>, what: &DropOffField) -> String {
    let missing = what.to_string();
    match pair {
        Some(pair) => words::commands::missing_of_pair(pair + 1, &missing),
        None => missing,
    }
}

/// Why the typed text is not a price of work or of goods.
fn no_price(what: &str, typed: &str) -> String {
    match typed.trim() {
        "" => words::commands::price_is_missing(what),
        typed => words::commands::not_a_price(what, typed),
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
            (DropOffField::GoodsPrice { at, .. }, _) => goods_price_id(*at),
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

/// The id of the field for the price of goods.
pub fn goods_price_id(at: usize) -> String {
    format!("goods-price-{at}")
}
