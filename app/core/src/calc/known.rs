//! What is known of the pair that is worked on: where its helpers begin, and when its parts count as worn.

use shared::log::body::{OperationCode, Side};
use shared::log::fold::PairHistory;
use shared::trade::fits::{limit_mm, limit_of};
use shared::trade::formulas::day::Day;
use shared::trade::{Component, Goods};

use crate::pair_history::{day_of, parts, thicknesses};

/// The operation that raises a shoe to a height that was prescribed.
const RAISE: &str = "raise_to_prescription";

/// What is known of a pair. Nothing, by default.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CalcPair {
    /// The kind of goods; `None` where it was not stated.
    pub goods: Option<Goods>,
    /// The parts that the shop has put on and that are on, the newest first.
    pub on: Vec<PartOn>,
    /// The thicknesses that were measured of the parts that are on.
    pub measured: Vec<MeasuredOn>,
}

/// A part that the shop has put on and that is on.
#[derive(Debug, Clone, PartialEq)]
pub struct PartOn {
    /// The part.
    pub part: Component,
    /// The shoe.
    pub side: Side,
    /// The operation that put it on.
    pub operation: OperationCode,
}

/// The day on which a thickness was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredOn {
    /// The part.
    pub part: Component,
    /// The shoe.
    pub side: Side,
    /// The day.
    pub day: Day,
}

/// Whether what is said of one of these sides concerns the other.
fn meet(one: &Side, other: &Side) -> bool {
    one == other || *one == Side::Both || *other == Side::Both
}

impl CalcPair {
    /// What the records of a pair say.
    pub fn of(history: &PairHistory) -> Self {
        let on: Vec<_> = parts(history)
            .into_iter()
            .filter(|part| part.until.is_none())
            .collect();
        let measured = thicknesses(history).into_iter().filter_map(|one| {
            // What was measured before the part was put on was the part before it.
            let since = on
                .iter()
                .filter(|part| part.part == one.part && meet(&part.side, &one.side))
                .all(|part| part.at.utc <= one.reading.at.utc);
            since.then_some(MeasuredOn {
                part: one.part,
                side: one.side,
                day: day_of(one.reading.at)?,
            })
        });
        Self {
            goods: history.pair.goods(),
            measured: measured.collect(),
            on: on
                .iter()
                .map(|part| PartOn {
                    part: part.part.clone(),
                    side: part.side.clone(),
                    operation: part.operation.clone(),
                })
                .collect(),
        }
    }

    /// Whether the heights of its heels are as prescribed, so that they are never levelled.
    pub fn is_prescribed(&self) -> bool {
        self.goods == Some(Goods::Orthopaedic) || self.on.iter().any(|part| part.operation == RAISE)
    }

    /// Whether the shop has put this part on the shoe, or on either for both, and it is on.
    pub fn has(&self, part: &Component, side: &Side) -> bool {
        self.on.iter().any(|on| on.part == *part && meet(&on.side, side))
    }

    /// The thickness in mm at which a part counts as worn, by the operation that put it on, else by the kind of part;
    /// `None` for a part whose thickness is no measure of wear.
    pub fn limit_mm(&self, part: &Component, side: &Side) -> Option<f64> {
        let mut put_on = self.on.iter();
        let put_on = put_on.find(|on| on.part == *part && meet(&on.side, side));
        put_on
            .and_then(|on| limit_of(&on.operation))
            .or_else(|| limit_mm(part))
    }

    /// The day on which a part was first measured since it was put on; `None` if it was not.
    pub fn first_measured(&self, part: &Component, side: &Side) -> Option<Day> {
        let of_it = self
            .measured
            .iter()
            .filter(|one| one.part == *part && meet(&one.side, side));
        of_it.map(|one| one.day).min()
    }
}
