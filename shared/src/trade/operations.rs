//! The operations of the trade, one row each: what they are called, where and in which order they are done, how long they
//! take, what they cost, what they do to the parts, what can hurt, and what a customer is told.
//!
//! The rows stand in the files of this folder, and what a column holds in `columns`. The other modules of the trade answer
//! questions about an operation by its code.
//!
//! Minutes, waits, prices and lives of the usual repairs are common practice, no source; so are the smaller jobs, whose
//! minutes are a first guess. A shop's own history replaces them all.

mod bottoms;
pub(super) mod columns;
mod inside;
mod small;
mod uppers;

use super::cautions::Caution;
use super::component::Component;
use super::hazards::Hazard;
use super::kinds::{Class, Goods};
use super::waits::{Holds, Minutes, UsualWait};
use super::words::worded;

pub use columns::{Exposed, PartFit, PriceRow, Stage};

const SHOE: &[Class] = Class::FOOTWEAR;
const ITEM: &[Class] = Class::PLAIN_ITEMS;
const ANY: &[Class] = Class::ANY;
const BELT: &[Class] = &[Class::Belt];
const NOT_BELT: &[Class] = &[Class::Footwear, Class::Bag, Class::Other];

/// The rows, in the order a shop meets them.
const LISTS: [&[Operation]; 4] = [bottoms::BOTTOMS, uppers::UPPERS, inside::INSIDE, small::SMALL];

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

/// What an operation does to a sole, for the card's advice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SoleWork {
    /// A full new sole.
    Renewed,
    /// A seam that holds the sole is new.
    Stitched,
    /// A cemented edge of the sole is new.
    Cemented,
}

/// One kind of work: a row of the trade's list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Operation {
    /// The word in the log.
    pub code: &'static str,
    /// What the repairer calls it.
    pub name: &'static str,
    /// What the card tells the customer.
    pub plain: &'static str,
    /// What it can be done to.
    pub goods: &'static [Class],
    /// Where it is done, by its longest part.
    pub station: Station,
    /// Its place in the order of work; `None` for work that may be done at any time.
    pub stage: Option<Stage>,
    /// Attended work on a pair, in minutes.
    pub minutes: Minutes,
    /// What usually has to dry or set, in the order it comes.
    pub waits: &'static [UsualWait],
    /// Hours before the pair may be worn; 0 when at once.
    pub wear_after_h: u32,
    /// The starting price for each kind of goods.
    pub price: PriceRow,
    /// How long what it puts right usually lasts, in months; `None` where that cannot be said.
    pub life_months: Option<u32>,
    /// The parts that come to light.
    pub exposes: Exposed,
    /// The parts that it puts on.
    pub puts_on: &'static [PartFit],
    /// The parts that it takes off with what is replaced, and does not put on again.
    pub takes_off: &'static [Component],
    /// The parts that it works on and leaves in place.
    pub mends: &'static [Component],
    /// The part whose life begins with it; `None` for work that renews no whole part.
    pub renews: Option<Component>,
    /// What to mind, the most important first.
    pub cautions: &'static [Caution],
    /// What gives off vapour; empty where nothing does.
    pub vapours: &'static [&'static Hazard],
    /// What it does to the sole, as far as the card advises on it.
    pub sole_work: &'static [SoleWork],
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

/// The trade's list, in the order a shop meets them.
pub fn operations() -> impl Iterator<Item = &'static Operation> + Clone {
    LISTS.iter().copied().flatten()
}

/// Looks an operation up by its word in the log.
pub fn operation(code: &str) -> Option<&'static Operation> {
    operations().find(|known| known.code == code)
}

/// What the repairer calls it: the trade's name, or the shop's own word as it stands.
pub fn name(code: &str) -> &str {
    operation(code).map_or(code, |known| known.name)
}

/// The operations that can be done to `goods`, in the order a shop meets them.
pub fn operations_on(goods: &Goods) -> impl Iterator<Item = &'static Operation> {
    operations().filter(move |known| known.fits(goods))
}

#[cfg(test)]
mod tests;
