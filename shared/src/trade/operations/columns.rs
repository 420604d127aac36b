//! The types of the columns in the list of operations.

use crate::trade::component::Component;
use crate::trade::kinds::Goods;
use crate::trade::material::Material;
use crate::trade::usage::in_usage;

/// A stage in the order of work. [`precedence`](crate::trade::precedence) says which stage comes before which.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Opening the shoe, to see what is inside.
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
    /// A raise, which goes under the sole before the sole is put on.
    Raise,
    /// Soles, whole and half.
    Sole,
    /// The seam that holds the sole.
    SoleSeam,
    /// Parts over the sole and its seam: a guard cemented before stitching would have to come off again.
    OverTheSole,
    /// The heel block and its lifts.
    HeelBlock,
    /// The cover of the heel block.
    HeelCover,
    /// The top piece.
    TopPiece,
    /// Tips let into the top piece.
    QuarterTips,
    /// Edges cut and ground flush: before they are inked, and while dust can do no harm to a finish.
    EdgeTrim,
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
    /// Washing, and every treatment that leaves the leather wet: before dye and cream.
    WetCleaning,
    /// Dye and finish.
    Colour,
    /// Ink and wax on the edges.
    Edge,
    /// Cream and polish.
    Cleaning,
    /// Treatment against water.
    WaterRepellent,
}

/// A price in whole units for each kind of goods, in the order of [`Goods::KNOWN`]; 0 if the work is unusual or its
/// price must be estimated for each pair.
///
/// The columns: shoe, boot, walking boot, court shoe, dance shoe, sandal, child's shoe, trainer, long boot, safety
/// boot, orthopaedic shoe, climbing shoe, clog, belt, bag, other.
pub type PriceRow = [u16; Goods::KNOWN.len()];

/// What a price and its minutes are for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Priced {
    /// The pair; of goods that are no pair, the one that was brought.
    Pair,
    /// One piece, such as one zip or one hole, of which a pair may need several.
    Each,
}

/// One way to do an operation, where that changes its price or its minutes: another material, or less of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Variant {
    /// Its word in the log, unique within its operation.
    pub code: &'static str,
    pub(super) name: &'static str,
    /// Its price, in percent of the operation's own.
    pub price_percent: u16,
    /// Its minutes, in percent of the operation's own.
    pub minutes_percent: u16,
    /// The material of the sole that it leaves on the shoe; `None` if it leaves the sole's material as it was, or has
    /// more than one.
    pub material: Option<Material>,
}

impl Variant {
    /// Its name, as repairers use it.
    pub fn name(&self) -> &'static str {
        in_usage(self.name)
    }
}

/// A variant that says nothing of the sole's material.
pub(in crate::trade) const fn variant(
    code: &'static str,
    name: &'static str,
    price_percent: u16,
    minutes_percent: u16,
) -> Variant {
    Variant {
        code,
        name,
        price_percent,
        minutes_percent,
        material: None,
    }
}

/// A variant made of one material.
pub(in crate::trade) const fn made_of(
    code: &'static str,
    name: &'static str,
    price_percent: u16,
    minutes_percent: u16,
    material: Material,
) -> Variant {
    Variant {
        code,
        name,
        price_percent,
        minutes_percent,
        material: Some(material),
    }
}

/// What an operation brings onto the material of upper or sole, which therefore has to be known before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Touch {
    /// Water: washing, soaking, mulling, stretching fluid.
    Wet,
    /// Heat: hot air, an iron, a stiffener formed by heat.
    Heat,
    /// Cream, wax and polish.
    Cream,
    /// Solvent: finish remover, dye, or cement where it reaches the upper.
    Solvent,
}

/// Work that is part of other work and has no price of its own.
pub(in crate::trade) const UNPRICED: PriceRow = [0; Goods::KNOWN.len()];

/// The parts that an operation opens to view.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Exposed {
    /// The parts of a shoe.
    pub shoe: &'static [Component],
    /// The parts of a bag, a belt or other goods.
    pub item: &'static [Component],
}

impl Exposed {
    /// An operation that opens nothing.
    pub(in crate::trade) const NOTHING: Self = Self::on_all(&[]);

    /// The same parts for all classes of goods.
    pub(in crate::trade) const fn on_all(parts: &'static [Component]) -> Self {
        Self {
            shoe: parts,
            item: parts,
        }
    }
}

/// The parts under a sole that comes off whole, with the heel.
pub(in crate::trade) const UNDER_SOLE: &[Component] = &[
    Component::Insole,
    Component::Filler,
    Component::Shank,
    Component::LastingMargin,
    Component::Midsole,
    Component::HeelSeat,
];

/// The parts under a sole that is stitched to a welt.
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

/// The parts behind the closure of a bag, a belt or other goods.
pub(in crate::trade) const IN_ITEM: &[Component] = &[Component::Lining, Component::Seam];

/// A part that an operation puts on, and its layer among other parts of that name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartFit {
    /// The part.
    pub part: Component,
    /// The layer, from the inside out: a whole sole is 0, a half sole on it is 1. A part that is put on later takes off
    /// all parts of its own layer and of higher layers.
    pub layer: u8,
}

/// A part put on as the innermost layer.
pub(in crate::trade) const fn whole(part: Component) -> PartFit {
    PartFit { part, layer: 0 }
}

/// A part put on over `layer` other layers.
pub(in crate::trade) const fn over(part: Component, layer: u8) -> PartFit {
    PartFit { part, layer }
}
