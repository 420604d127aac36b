//! How long a heel nail may be, which length in stock to use, and where the nails are placed.
//!
//! The rule: shorter than the layers it may pass through, less the clearance (common practice, no source). From
//! inside, and from below into a bare block, those are insole, midsole, heel seat and block: the top piece is never
//! counted. Through the top piece they are top piece and block: the point stops inside the block. The next shorter
//! length on the shelf is chosen. From inside and through the top piece it holds with what is left of it in the block,
//! the base of the heel: at least [`LEAST_HOLD_MM`] (common practice). From below it holds beyond the block, in the
//! seat, which it has to reach. Edge nails stand about 1/4 in from the edge and 1/2 in apart (one heel-building page);
//! about seven hold a heel base (common practice).
//!
//! No point may come through: whatever is calculated, the final check is by hand, inside, left and right.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::outline::Outline;
use super::{Allowed, AnswerField, Calculation, Field, InvalidField, Point};

/// The usual number of nails that hold a heel base.
pub const USUAL_COUNT: u32 = 7;
/// The usual distance from the edge, mm.
pub const USUAL_INSET_MM: f64 = 6.35;
/// A nail holds with at least so much of it in the base, mm. Common practice, no source.
pub const LEAST_HOLD_MM: f64 = 8.0;
/// A hold at the least counts as enough, in spite of rounding errors, mm.
const ROUNDING: f64 = 1e-9;
/// The greatest number of positions on a heel.
const MOST_NAILS: u32 = 200;

const DIRECTION: Field = Field::new("direction", "", Allowed::Word(&["inside", "below", "top_piece"]));
const LAYERS: Field = Field::new("layers_mm", "mm", Allowed::Group(Layers::FIELDS));
const CLEARANCE: Field = Field::number("clearance_mm", "mm", 0.0, 50.0);
const STOCK: Field = Field::new(
    "stock_mm",
    "mm, lengths on the shelf",
    Allowed::Numbers(1, 200, 1.0, 300.0),
);
const OUTLINE: Field =
    Field::new("outline_mm", "mm, convex", Allowed::Points(3, 2_000, 2, 1_000.0)).or_none();
const INSET: Field = Field::number("inset_mm", "mm from the edge, with outline_mm", 0.5, 60.0).or_none();
const SPACING: Field = Field::number(
    "spacing_mm",
    "mm apart at least, with outline_mm and without count",
    2.0,
    200.0,
)
.or_none();
const COUNT: Field = Field::new(
    "count",
    "nails, without spacing_mm; 7 where neither is given",
    Allowed::Whole(1, MOST_NAILS),
)
.or_none();
const SHANK: Field = Field::new("shank", "", Allowed::Word(&["plain", "threaded"])).or_none();

/// Where a nail is driven from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// From inside the shoe, through the insole into the block.
    Inside,
    /// From below, into a block without its top piece.
    Below,
    /// From below, through the top piece.
    TopPiece,
}

/// The shank of a nail.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shank {
    /// A smooth nail.
    #[default]
    Plain,
    /// A threaded nail: it holds better under flexing, and its hole must be punched first.
    Threaded,
}

/// The layers of a heel from the foot to the ground, mm. A layer that is left out counts as 0, which can only make the
/// nail shorter.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layers {
    /// The insole.
    #[serde(default)]
    pub insole: f64,
    /// The midsole.
    #[serde(default)]
    pub midsole: f64,
    /// The sole at the heel seat.
    #[serde(default)]
    pub seat: f64,
    /// The heel base or block.
    pub block: f64,
    /// The top piece.
    #[serde(default)]
    pub top_piece: f64,
}

impl Layers {
    const INSOLE: Field = Field::number("insole", "mm", 0.0, 50.0).or_none();
    const MIDSOLE: Field = Field::number("midsole", "mm", 0.0, 50.0).or_none();
    const SEAT: Field = Field::number("seat", "mm", 0.0, 50.0).or_none();
    const BLOCK: Field = Field::number("block", "mm", 0.0, 200.0);
    const TOP_PIECE: Field = Field::number("top_piece", "mm", 0.0, 50.0).or_none();
    const FIELDS: &'static [Field] = &[
        Self::INSOLE,
        Self::MIDSOLE,
        Self::SEAT,
        Self::BLOCK,
        Self::TOP_PIECE,
    ];

    fn check(&self) -> Result<(), InvalidField> {
        let values = [self.insole, self.midsole, self.seat, self.block, self.top_piece];
        Self::FIELDS
            .iter()
            .zip(values)
            .try_for_each(|(field, value)| field.check(value).map(drop))
    }

    /// The thickness of all layers that a nail may pass through, mm.
    fn passable(&self, from: Direction) -> f64 {
        match from {
            Direction::Inside | Direction::Below => self.insole + self.midsole + self.seat + self.block,
            Direction::TopPiece => self.top_piece + self.block,
        }
    }

    /// The thickness between the head and the layer that must hold the nail, mm.
    fn before_hold(&self, from: Direction) -> f64 {
        match from {
            Direction::Inside => self.insole + self.midsole + self.seat,
            Direction::Below => self.block,
            Direction::TopPiece => self.top_piece,
        }
    }
}

/// A heel to be nailed.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Nailing {
    /// The direction from which the nails are driven.
    pub direction: Direction,
    /// The thicknesses of its layers, mm.
    pub layers_mm: Layers,
    /// The least distance between the point and the face, mm.
    pub clearance_mm: f64,
    /// The lengths in stock, mm.
    pub stock_mm: Vec<f64>,
    /// The outline of the heel, convex, mm.
    pub outline_mm: Option<Vec<Point>>,
    /// The distance from the edge, mm.
    pub inset_mm: Option<f64>,
    /// The least distance between nails, mm.
    pub spacing_mm: Option<f64>,
    /// The number of nails.
    pub count: Option<u32>,
    /// The kind of shank; plain if absent.
    pub shank: Option<Shank>,
}

/// Why a nail is chosen, and how it holds; or why none is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NailFit {
    /// It is the longest that is short enough, and holds.
    Holds,
    /// It holds with less than [`LEAST_HOLD_MM`] in the base.
    HoldsLittle,
    /// It ends before the layer that has to hold it, or where that layer begins: so many mm below its head.
    EndsBefore {
        /// Where that layer begins, mm.
        before_mm: f64,
    },
    /// Nothing in stock is short enough.
    NoneShorter,
    /// The clearance leaves no room for a nail.
    NoRoom,
}

/// The nails of a heel.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Nails {
    /// The layers minus the clearance, mm: a nail must be shorter than this; 0 if nothing is left.
    pub longest_mm: f64,
    /// The longest length in stock that is shorter than that, mm; `None` if there is none.
    pub choose_mm: Option<f64>,
    /// How much of it is in the layer that holds it, mm; 0 if it does not reach it, `None` without a nail.
    pub hold_mm: Option<f64>,
    /// Why that one, or none.
    #[serde(skip)]
    pub fit: NailFit,
    /// Why no length fits, or a warning about the one that does.
    pub reason: Option<String>,
    /// The number of nails.
    pub count: u32,
    /// The positions of the nails, mm, in the order of the outline; empty without an outline.
    pub positions_mm: Vec<Point>,
    /// Whether the holes must be punched first.
    pub prepunch: bool,
}

impl Nailing {
    /// The longest nail in stock that is shorter than `longest`, and how it holds.
    fn choose(&self, longest: f64) -> Result<(Option<f64>, NailFit), InvalidField> {
        let stock = STOCK.check_list(&self.stock_mm)?.iter().copied();
        let fitting = stock.filter(|nail| *nail < longest).reduce(f64::max);
        let before_mm = self.layers_mm.before_hold(self.direction);
        let in_base = self.direction != Direction::Below;
        let fit = match fitting {
            None if longest > 0.0 => NailFit::NoneShorter,
            None => NailFit::NoRoom,
            Some(nail) if nail <= before_mm => NailFit::EndsBefore { before_mm },
            Some(nail) if in_base && nail - before_mm < LEAST_HOLD_MM - ROUNDING => NailFit::HoldsLittle,
            Some(_) => NailFit::Holds,
        };
        Ok((fitting, fit))
    }

    /// Why no nail fits, or a warning about the one that does, for `waxend calc`.
    fn reason(&self, chosen: Option<f64>, fit: NailFit, longest: f64) -> Option<String> {
        let nail = chosen.unwrap_or_default();
        match fit {
            NailFit::Holds => None,
            NailFit::NoneShorter => Some(format!("nothing on the shelf is shorter than {longest} mm")),
            NailFit::NoRoom => Some("the clearance leaves no room for a nail".to_owned()),
            NailFit::EndsBefore { before_mm } if self.direction == Direction::Below => Some(format!(
                "{nail} mm into a {before_mm} mm block from below does not reach the seat: \
                 it ends before the layer that has to hold it, {before_mm} mm down"
            )),
            NailFit::EndsBefore { before_mm } => Some(format!(
                "it ends before the layer that has to hold it, {before_mm} mm down"
            )),
            NailFit::HoldsLittle => {
                let hold = nail - self.layers_mm.before_hold(self.direction);
                Some(format!(
                    "it holds with only {hold:.1} mm in the base; {LEAST_HOLD_MM} mm are the least (common practice)"
                ))
            }
        }
    }

    fn count(&self) -> Result<u32, InvalidField> {
        let count = self.count.unwrap_or(USUAL_COUNT);
        if (1..=MOST_NAILS).contains(&count) {
            Ok(count)
        } else {
            Err(COUNT.refused())
        }
    }

    /// The number of nails, and their positions.
    fn places(&self) -> Result<(u32, Vec<Point>), InvalidField> {
        if self.spacing_mm.is_some() && self.count.is_some() {
            return Err(SPACING.refused());
        }
        let Some(points) = &self.outline_mm else {
            return match (self.inset_mm, self.spacing_mm) {
                (Some(_), _) => Err(INSET.refused()),
                (None, Some(_)) => Err(SPACING.refused()),
                (None, None) => Ok((self.count()?, Vec::new())),
            };
        };
        let outline = Outline::convex(&OUTLINE, points)?;
        let line = outline.drawn_in(INSET.check(self.inset_mm.unwrap_or(USUAL_INSET_MM))?);
        if line.points().len() < 3 || line.perimeter() <= 0.0 {
            return Err(INSET.refused_as("less than half of the heel's width"));
        }
        let count = match self.spacing_mm {
            Some(spacing) => fitting(line.perimeter() / SPACING.check(spacing)?)?,
            None => self.count()?,
        };
        Ok((count, line.evenly(count as usize, outline.points()[0])))
    }
}

/// The whole part of a number of nails, at least one.
fn fitting(nails: f64) -> Result<u32, InvalidField> {
    if nails > f64::from(MOST_NAILS) {
        return Err(SPACING.refused_as(format!("wide enough that no more than {MOST_NAILS} nails fit")));
    }
    Ok((nails.floor() as u32).max(1))
}

impl Calculation for Nailing {
    const NAME: &'static str = "nails";
    const TAKES: &'static [Field] = &[
        DIRECTION, LAYERS, CLEARANCE, STOCK, OUTLINE, INSET, SPACING, COUNT, SHANK,
    ];
    const GIVES: &'static [AnswerField] = gives![
        "longest_mm" "mm: a nail must be shorter", "choose_mm" "mm, or null if none fits",
        "hold_mm" "mm of it in the layer that holds it: the block, from below the seat; or null",
        "reason" "why none fits or what to mind, or null", "count" "nails",
        "positions_mm" "points [x, y] in mm; empty without outline_mm",
        "prepunch" "true if the holes are punched first",
    ];
    type Answer = Nails;

    fn calculate(&self) -> Result<Nails, InvalidField> {
        self.layers_mm
            .check()
            .map_err(|refused| refused.within(LAYERS.name))?;
        let room = self.layers_mm.passable(self.direction) - CLEARANCE.check(self.clearance_mm)?;
        let longest_mm = room.max(0.0);
        let (choose_mm, fit) = self.choose(longest_mm)?;
        let before_mm = self.layers_mm.before_hold(self.direction);
        let (count, positions_mm) = self.places()?;
        Ok(Nails {
            longest_mm,
            choose_mm,
            hold_mm: choose_mm.map(|nail| (nail - before_mm).max(0.0)),
            fit,
            reason: self.reason(choose_mm, fit, longest_mm),
            count,
            positions_mm,
            prepunch: self.shank.unwrap_or_default() == Shank::Threaded,
        })
    }
}

#[cfg(test)]
mod tests;
