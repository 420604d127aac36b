//! The operations of the trade: what they are called, where they are done, how long they take, and what a
//! customer is told.

mod list;

use super::kinds::{Class, Goods};
use super::waits::{Holds, Minutes, UsualWait};
use super::words::worded;

pub use list::OPERATIONS;

worded!(
    /// The kind of place or tool that operations share.
    Station {
        /// Knife, pincers, heat: taking off what is worn.
        Strip = "strip", "Strip";
        /// Cement and its drying.
        Cement = "cement", "Cement";
        /// Awl, waxed thread, machine.
        Stitch = "stitch", "Stitch";
        /// Lifts, nails, top pieces.
        BuildHeel = "build_heel", "Build heel";
        /// Knife, rasp, finisher: edges and heels to shape.
        Trim = "trim", "Trim";
        /// Edge ink and wax.
        Ink = "ink", "Ink";
        /// Dye and finish on the upper.
        Finish = "finish", "Finish";
        /// Brushes, cream, polish.
        CleanAndPolish = "clean_and_polish", "Clean and polish";
    }
);

/// One kind of work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Operation {
    /// The word in the log.
    pub code: &'static str,
    /// What the repairer calls it.
    pub name: &'static str,
    /// What the card tells the customer.
    pub plain: &'static str,
    /// Where it is done, by its longest part.
    pub station: Station,
    /// Hours before the pair may be worn; 0 when at once.
    pub wear_after_h: u32,
    /// Attended work on a pair, in minutes.
    pub minutes: Minutes,
    /// What usually has to dry or set, in the order it comes.
    pub waits: &'static [UsualWait],
    /// What it can be done to.
    pub goods: &'static [Class],
}

impl Operation {
    /// Whether it can be done to `goods`.
    pub fn fits(&self, goods: &Goods) -> bool {
        goods.is_any_of(self.goods)
    }

    /// The waits that keep the next step from happening.
    pub fn bench_waits(&self) -> impl Iterator<Item = &'static UsualWait> {
        self.waits.iter().filter(|wait| wait.holds == Holds::Bench)
    }
}

/// Looks an operation up by its word in the log.
pub fn operation(code: &str) -> Option<&'static Operation> {
    OPERATIONS.iter().find(|known| known.code == code)
}

/// What the repairer calls it: the trade's name, or the shop's own word as it stands.
pub fn name(code: &str) -> &str {
    operation(code).map_or(code, |known| known.name)
}

/// The operations that can be done to `goods`, in the order a shop meets them.
pub fn operations_on(goods: &Goods) -> impl Iterator<Item = &'static Operation> {
    OPERATIONS.iter().filter(move |known| known.fits(goods))
}

#[cfg(test)]
mod tests;
