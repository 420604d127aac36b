//! Which materials a step probably takes: the one that such a step took last comes first.

use std::cmp::Reverse;

use super::amount::thousandths;
use super::derived::derived_takes;
use super::rows::{Shelf, ShelfRow};
use super::uses::MaterialUse;
use super::usual::UsualTakes;
use crate::log::body::Used;
use crate::log::entry::{SubjectId, UnixMs};
use crate::price::records::StepFact;

/// A material that a step may have taken.
#[derive(Debug, Clone, PartialEq)]
pub struct TakeSuggestion {
    /// The material.
    pub material: SubjectId,
    /// Its name.
    pub name: String,
    /// The unit it is counted in; empty if that was not noted.
    pub unit: String,
    /// How much, in thousandths of the unit, what is wasted included.
    pub thousandths: u32,
    /// How much is there, in thousandths; `None` if that is not known.
    pub on_hand: Option<i64>,
    /// When such a step last took it.
    pub last: Option<UnixMs>,
}

impl TakeSuggestion {
    /// What a step says that took it.
    pub fn used(&self) -> Used {
        Used {
            material: self.name.clone(),
            thousandths: self.thousandths,
            material_id: Some(self.material),
        }
    }

    fn of(step: &StepFact, row: &ShelfRow, units: f64, usage: &[MaterialUse]) -> Self {
        let taken = usage.iter();
        let taken = taken.filter(|one| one.material == row.id && one.operation == step.operation);
        let amount = thousandths(units * step.takes());
        Self {
            material: row.id,
            name: row.name().to_owned(),
            unit: row.state.unit().unwrap_or_default().to_owned(),
            thousandths: u32::try_from(amount.max(0)).unwrap_or(u32::MAX),
            on_hand: row.shown(),
            last: taken.map(|one| one.at).max(),
        }
    }
}

/// The materials that are kept for the operation of a step, or that it has taken before, the last used first; then in
/// the order of the shelf. The amount is the usual one; without a usual one, the median of what the last such steps
/// took, see [`derived_takes`]. For one shoe it is half of that, and for so many pieces so many times that.
pub fn suggestions(
    step: &StepFact,
    shelf: &Shelf,
    usual: &UsualTakes<'_>,
    usage: &[MaterialUse],
) -> Vec<TakeSuggestion> {
    let suggested = kept(shelf).filter_map(|row| {
        let units = units_of_pair(&step.operation, row, usual, usage)?;
        Some(TakeSuggestion::of(step, row, units, usage))
    });
    let mut all: Vec<_> = suggested.collect();
    all.sort_by_key(|one| Reverse(one.last));
    all
}

/// The materials that the operation of a step has never taken, in the order of the shelf. Without anything better known
/// a pair or a piece takes one of the unit.
pub fn other_materials(
    step: &StepFact,
    shelf: &Shelf,
    usual: &UsualTakes<'_>,
    usage: &[MaterialUse],
) -> Vec<TakeSuggestion> {
    let others = kept(shelf).filter(|row| units_of_pair(&step.operation, row, usual, usage).is_none());
    let suggested = others.map(|row| TakeSuggestion::of(step, row, 1.0, usage));
    suggested.collect()
}

fn kept(shelf: &Shelf) -> impl Iterator<Item = &ShelfRow> {
    shelf.rows.iter().filter(|row| !row.state.is_retired())
}

/// The units that a pair takes of a material in an operation; `None` if it is not kept for it and was never taken.
fn units_of_pair(
    operation: &str,
    row: &ShelfRow,
    usual: &UsualTakes<'_>,
    usage: &[MaterialUse],
) -> Option<f64> {
    let material = usual.materials().get(row.id);
    let noted = material.and_then(|one| usual.units(one, operation));
    noted.or_else(|| Some(derived_takes(row.id, operation, usage)? as f64 / 1_000.0))
}
