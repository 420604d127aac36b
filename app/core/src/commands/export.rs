//! Everything of one customer as one file, for the customer who asks for it: a copy of the data (GDPR, article 15(3)) that
//! a person reads, with every entry in a form that machines read (article 20).
//!
//! What a shop has to say beside it (article 15(1): why it keeps the data, for how long, whom to complain to) is the shop's
//! own text and not in the file.

mod loader;
mod page;

pub use loader::{CustomerLoader, CustomerRecords, NamedBlob};
pub use page::page;

#[cfg(test)]
mod tests;
