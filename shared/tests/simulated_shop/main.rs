//! A shop of three years and 2,000 pairs, simulated from a seed, and a fourth year in which its prices are tested.
//!
//! The true parameters ([`truth`]) are drawn and kept separate: how long work takes, how often hidden damage is found
//! in each construction, how long parts last. Customers ([`stays`]) bring a pair first for any repair, later when a
//! part has worn out (after a while, or never), or for something small, whatever the state of its parts. Three people
//! ([`shop`], [`bench`]) do the work and note it as real people do. The estimates use only these notes ([`scribe`]), as
//! entries that are folded like those of any shop; they are compared with the truth.
//!
//! `cargo test -p shared --test simulated_shop -- --nocapture` prints the figures that are in `FIGURES.md` beside this
//! file.

mod bench;
mod dice;
mod scribe;
mod shop;
mod stays;
mod tests;
mod truth;
mod years;

use shared::price::minor::Minor;
use shared::trade::norm;
use stays::Pair;

/// The old price list: the trade's norms.
pub(crate) fn price(code: &str, pair: &Pair) -> Minor {
    norm(code, &pair.goods).expect("a price of the list")
}
