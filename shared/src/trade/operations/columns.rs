//! What the columns of the list hold that have a shape of their own.

use crate::trade::component::Component;
use crate::trade::kinds::Goods;

/// A place in the order of work. An operation has one; which comes before which [`precedence`](crate::trade::precedence) says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Opening, to see what is inside.
    OpenUp,
    /// Taking the old sole off.
    OldSole,
    /// The insole.
    Insole,
    /// Counter and puff.
    Stiffener,
    /// The rib or holdfast that the welt is sewn to.
    Rib,
    /// The welt.
    Welt,
    /// The shank.
    Shank,
    /// The filler.
    Filler,
    /// The midsole.
    Midsole,
    /// Soles, whole and half.
    Sole,
    /// The seam that holds the sole.
    SoleSeam,
    /// What lies over the sole and its seam: a guard cemented first would have to come off again for the stitching.
    OverTheSole,
    /// The heel block and its lifts.
    HeelBlock,
    /// The cover of the heel block.
    HeelCover,
    /// The top piece.
    TopPiece,
    /// Tips let into the top piece.
    QuarterTips,
    /// The lining that covers the counter.
    HeelLining,
    /// The sock over the insole.
    Sock,
    /// Sewing, fastenings and stretching.
    Sewing,
    /// The buckle.
    Buckle,
    /// The length of a belt.
    BeltLength,
    /// The holes, measured from the buckle.
    BeltHoles,
    /// Dye and finish.
    Colour,
    /// Ink and wax on the edges.
    Edge,
    /// Cream and polish.
    Cleaning,
    /// Treatment against water.
    WaterRepellent,
}

/// A price in whole units for each kind of goods, in the order of [`Goods::KNOWN`]; 0 where the work is unusual or has to
/// be looked at first.
pub type PriceRow = [u16; Goods::KNOWN.len()];

/// Work that is part of other work and has no price of its own.
pub(in crate::trade) const UNPRICED: PriceRow = [0; Goods::KNOWN.len()];

/// What an operation lays open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Exposed {
    /// Of a shoe.
    pub shoe: &'static [Component],
    /// Of a bag, a belt or anything else.
    pub item: &'static [Component],
}

impl Exposed {
    /// Opens nothing.
    pub(in crate::trade) const NOTHING: Self = Self::on_all(&[]);

    /// The same parts on whatever the operation can be done to.
    pub(in crate::trade) const fn on_all(parts: &'static [Component]) -> Self {
        Self {
            shoe: parts,
            item: parts,
        }
    }
}

/// Under a sole that comes off whole. The heel comes off with it.
pub(in crate::trade) const UNDER_SOLE: &[Component] = &[
    Component::Insole,
    Component::Filler,
    Component::Shank,
    Component::LastingMargin,
    Component::Midsole,
    Component::HeelSeat,
];

/// Under a sole that is stitched to a welt.
pub(in crate::trade) const UNDER_WELTED: &[Component] = &[
    Component::Insole,
    Component::Rib,
    Component::Filler,
    Component::Shank,
    Component::Welt,
    Component::LastingMargin,
    Component::Midsole,
    Component::HeelSeat,
];

/// Behind what a bag, a belt or anything else is closed with.
pub(in crate::trade) const IN_ITEM: &[Component] = &[Component::Lining, Component::Seam];

/// A part that an operation puts on, and where it lies among others on the same part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartFit {
    /// The part.
    pub part: Component,
    /// How far out it lies: a whole sole is 0, a half sole on it 1. What is put on later takes off what lies as far out
    /// or farther.
    pub layer: u8,
}

/// Put on innermost.
pub(in crate::trade) const fn whole(part: Component) -> PartFit {
    PartFit { part, layer: 0 }
}

/// Put on over `layer` others.
pub(in crate::trade) const fn over(part: Component, layer: u8) -> PartFit {
    PartFit { part, layer }
}
