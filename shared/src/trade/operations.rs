//! The operations of the trade, one row for each: its name in full and on a tile, station, order of work, minutes,
//! waits, prices, effects on parts, hazards, and what a customer is told.
//!
//! The rows are in the files of this folder, the types of the columns in `columns`. The other modules of the trade look
//! facts up by an operation's code.
//!
//! Minutes, waits, prices and lives of the usual repairs are common practice, no source; so are the smaller jobs, whose
//! minutes are a first guess. A shop's own history replaces them all.

mod care;
mod colour;
pub(super) mod columns;
mod fastenings;
mod goods_of_leather;
mod heels;
mod inside;
mod resoles;
mod soles;
mod uppers;
mod variants;

use super::cautions::Caution;
use super::component::Component;
use super::hazards::Hazard;
use super::kinds::{Class, Goods};
use super::usage::in_usage;
use super::waits::{Holds, Minutes, UsualWait, WaitPlace};
use super::worded::worded;

pub use columns::{Exposed, PartFit, PriceRow, Priced, Stage, Touch, Variant};

const SHOE: &[Class] = Class::FOOTWEAR;
const ITEM: &[Class] = Class::PLAIN_ITEMS;
const ANY: &[Class] = Class::ANY;
const BELT: &[Class] = &[Class::Belt];
const BAGS: &[Class] = &[Class::Bag, Class::Other];
const NOT_BELT: &[Class] = &[Class::Footwear, Class::Bag, Class::Other];

/// The rows. Within a list the most frequent repairs come first.
const LISTS: [&[Operation]; 9] = [
    heels::HEELS,
    soles::SOLES,
    resoles::RESOLES,
    uppers::UPPERS,
    fastenings::FASTENINGS,
    colour::COLOUR,
    care::CARE,
    inside::INSIDE,
    goods_of_leather::GOODS_OF_LEATHER,
];

worded!(
    /// The kind of workplace that operations share.
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

/// What an operation does to a sole, as far as the card's advice depends on it.
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
    /// Its word in the log.
    pub code: &'static str,
    name: &'static str,
    tile: &'static str,
    plain: &'static str,
    plain_one: &'static str,
    /// The classes of goods it can be done to.
    pub goods: &'static [Class],
    /// The station of its longest part.
    pub station: Station,
    /// Its place in the order of work; `None` for work that may be done at any time.
    pub stage: Option<Stage>,
    /// Attended work in minutes, on what [`priced`](Self::priced) says.
    pub minutes: Minutes,
    /// The usual drying and setting times, in order.
    pub waits: &'static [UsualWait],
    /// Hours before the pair may be worn; 0 if it may be worn at once.
    pub wear_after_h: u32,
    /// The starting price for each kind of goods.
    pub price: PriceRow,
    /// What price and minutes are for: the pair, or each piece.
    pub priced: Priced,
    /// The ways to do it that change its price or its minutes, the usual one first; empty if there is only one.
    pub variants: &'static [Variant],
    /// The operations that are part of it, and are not charged beside it.
    pub includes: &'static [&'static str],
    /// The operations to be asked for with it.
    pub asks_for: &'static [&'static str],
    /// How long its result usually lasts, in months; `None` if no life can be stated.
    pub life_months: Option<u32>,
    /// The parts that it opens to view.
    pub exposes: Exposed,
    /// The parts that it puts on.
    pub puts_on: &'static [PartFit],
    /// The parts that it takes off and does not put on again.
    pub takes_off: &'static [Component],
    /// The parts that it works on and leaves in place.
    pub mends: &'static [Component],
    /// The part whose life begins with it; `None` for work that renews no whole part.
    pub renews: Option<Component>,
    /// Its cautions, the most important first.
    pub cautions: &'static [Caution],
    /// The substances that give off vapour; empty if there are none.
    pub vapours: &'static [&'static Hazard],
    /// What it brings onto the material of upper or sole.
    pub touch: &'static [Touch],
    /// What it does to the sole, as far as the card's advice depends on it.
    pub sole_work: &'static [SoleWork],
}

impl Operation {
    /// Its name, as repairers use it.
    pub fn name(&self) -> &'static str {
        in_usage(self.name)
    }

    /// Its short name on a tile: at most 12 characters.
    pub fn tile_name(&self) -> &'static str {
        in_usage(self.tile)
    }

    /// Its description for the customer, on the card: done to the pair, or to goods that are no pair.
    pub fn plain(&self) -> &'static str {
        in_usage(self.plain)
    }

    /// The same, done to one shoe: `left` or `right` takes the place of its `{side}`. Empty for work on goods that have
    /// no sides.
    pub fn plain_one(&self) -> &'static str {
        in_usage(self.plain_one)
    }

    /// Whether it can be done to `goods`.
    pub fn fits(&self, goods: &Goods) -> bool {
        goods.is_any_of(self.goods)
    }

    /// Looks a variant up by its word in the log.
    pub fn variant(&self, code: &str) -> Option<&'static Variant> {
        self.variants.iter().find(|known| known.code == code)
    }

    /// The waits at a place in its work, in order.
    pub fn waits_at(&self, place: WaitPlace) -> impl Iterator<Item = &'static UsualWait> {
        self.waits.iter().filter(move |wait| wait.place == place)
    }

    /// The waits that delay the next step.
    pub fn bench_waits(&self) -> impl Iterator<Item = &'static UsualWait> {
        self.waits.iter().filter(|wait| wait.holds == Holds::Bench)
    }
}

/// All operations: heels, soles, uppers, fastenings, colour and care, what lies inside, then other goods.
pub fn operations() -> impl Iterator<Item = &'static Operation> + Clone {
    LISTS.iter().copied().flatten()
}

/// Looks an operation up by its word in the log.
pub fn operation(code: &str) -> Option<&'static Operation> {
    operations().find(|known| known.code == code)
}

/// The name of an operation as repairers use it; for the shop's own operation, its code unchanged.
pub fn name(code: &str) -> &str {
    let Some(known) = operation(code) else {
        return code;
    };
    known.name()
}

/// The short name of an operation on a tile, see [`Operation::tile_name`]; for the shop's own operation, its code
/// unchanged.
pub fn tile_name(code: &str) -> &str {
    let Some(known) = operation(code) else {
        return code;
    };
    known.tile_name()
}

/// The operations that can be done to `goods`, in the order of [`operations`].
pub fn operations_on(goods: &Goods) -> impl Iterator<Item = &'static Operation> {
    operations().filter(move |known| known.fits(goods))
}

#[cfg(test)]
mod tests;
