//! Bringing in what a shop has in other programs: customers from a table or from contact cards, prices from a table.
//!
//! Each kind of file is read into a preview, which says what would be written, what would not be and why. A preview gives
//! the drafts for one save, which is undone at once as any other.

mod customers;
mod heads;
mod prices;
mod prices_table;
mod read;
mod table;
#[cfg(test)]
mod tests;
mod text;
mod vcard;

use shared::csv;
use shared::log::fold::ShopState;

use heads::{CustomerColumn, customer_column};

pub use customers::{CustomerDouble, CustomersPreview, SameBy};
pub use prices::{PricesPreview, ReadPrice};
pub use read::{CustomersFile, ReadCustomer, UnreadLine};
pub use text::decoded;

/// What a file has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// A table with one customer a line.
    Customers,
    /// Contact cards (vCard).
    Cards,
    /// A table of prices.
    Prices,
}

impl FileKind {
    /// Every kind, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Customers, Self::Cards, Self::Prices];

    /// The kind of a file with this text: contact cards where one begins, prices where the headings name work and goods
    /// or a price, customers otherwise.
    pub fn of(text: &str, shop: &ShopState) -> Self {
        if vcard::has_cards(text) {
            return Self::Cards;
        }
        let first = csv::read(text, csv::separator(text)).into_iter().next();
        let heads = first.and_then(|record| record.fields.ok()).unwrap_or_default();
        let tells_who = heads
            .iter()
            .filter_map(|head| customer_column(head))
            .any(tells_who);
        if !tells_who && prices_table::is_of_prices(&heads, shop) {
            Self::Prices
        } else {
            Self::Customers
        }
    }

    /// Its name for a person.
    pub fn words(self) -> &'static str {
        match self {
            Self::Customers => words::shop::bring::customers_from_table(),
            Self::Cards => words::shop::bring::customers_from_cards(),
            Self::Prices => words::shop::bring::prices(),
        }
    }
}

/// Whether only a table of customers has such a column. Work has a name, too.
fn tells_who(column: CustomerColumn) -> bool {
    matches!(
        column,
        CustomerColumn::First
            | CustomerColumn::Last
            | CustomerColumn::Phone
            | CustomerColumn::Mobile
            | CustomerColumn::Email
    )
}

/// What a file says of customers, read as this kind; a table of prices says nothing of them.
pub fn customers_in(text: &str, kind: FileKind) -> CustomersFile {
    match kind {
        FileKind::Customers => table::read(text),
        FileKind::Cards => vcard::read(text),
        FileKind::Prices => CustomersFile::default(),
    }
}
