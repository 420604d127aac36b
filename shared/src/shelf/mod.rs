//! The shelf: which materials the shop keeps, how much of each is there, what has to be ordered, and what waits for it.
//!
//! Pure: from folded states to rows, lists and texts.
#![doc = include_str!("README.md")]

mod amount;
mod costs;
mod derived;
mod listed;
mod materials;
mod migrate;
mod order_list;
mod rows;
mod suggest;
mod uses;
mod usual;
mod waits;

pub use amount::{amount_words, thousandths};
pub use costs::{shelf_fields, stock_of};
pub use derived::{all_derived_takes, derived_takes};
pub use listed::listed_id;
pub use materials::{KeptMaterial, Materials};
pub use migrate::{drafts_from_stock, opening};
pub use order_list::{OrderLine, order_csv, order_text};
pub use rows::{CountCheck, Shelf, ShelfRow};
pub use suggest::{TakeSuggestion, other_materials, suggestions};
pub use uses::{MaterialUse, uses, uses_in_rows};
pub use usual::UsualTakes;
pub use waits::{has_come, is_for, is_over_by_arrival, open_waits_for, waits_for};

#[cfg(test)]
mod tests;
