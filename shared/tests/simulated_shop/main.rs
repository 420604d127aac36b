//! A shop of three years and 2,000 pairs, simulated from a seed, and a fourth year to try its prices on.
//!
//! What is really so ([`truth`]) is drawn and kept apart: how long work takes, how often what hides in each construction is
//! damaged, how long parts last. Customers ([`stays`]) bring a pair at first for anything, later when a part has worn out
//! (after a while, or never), or for something small, whatever the state of its parts. Three
//! people ([`shop`], [`bench`]) work through it, and note what people note. Only what they note ([`scribe`]), as entries that are folded like any shop's, reaches the reckoning; what
//! it says is compared with the truth.
//!
//! `cargo test -p shared --test simulated_shop -- --nocapture` prints the figures that stand in DEVELOPERS.md.

mod bench;
mod dice;
mod scribe;
mod shop;
mod stays;
mod tests;
mod truth;
mod years;

use shared::trade::norm;
use stays::Pair;

/// The old price list: the trade's norms.
pub(crate) fn price(code: &str, pair: &Pair) -> i64 {
    norm(code, &pair.goods).expect("a price of the list")
}
