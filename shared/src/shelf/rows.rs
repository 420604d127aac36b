//! The shelf as rows: what is there of each material, and what is missing.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use super::amount::total;
use super::materials::{KeptMaterial, Materials};
use super::uses::MaterialUse;
use crate::log::entry::{SubjectId, UnixMs};
use crate::log::fold::MaterialState;
use crate::price::minor::Minor;

/// Why what is there should be counted again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CountCheck {
    /// Two devices counted without knowing of each other's count, and both found a difference. If they counted the same
    /// shelf, the difference is in the sum twice.
    Twice,
    /// Something from before the last count became known after it: a step on another device, a correction, a step
    /// that is gone. If that was seen when the shelf was counted, it is in the sum twice.
    Late,
}

/// One material.
#[derive(Debug, Clone, PartialEq)]
pub struct ShelfRow {
    /// The material, by its canonical id.
    pub id: SubjectId,
    /// What its entries say: its name, kind, size, supplier, orders.
    pub state: MaterialState,
    /// How much is there, in thousandths of the unit; `None` until it was counted or has arrived for the first time.
    pub on_hand: Option<i64>,
    /// How much would be there by the last count alone: what was seen then, and what has arrived and was used since;
    /// `None` if it was never counted. It differs from `on_hand` where there is a `check`, and is what a new count will
    /// probably find.
    pub by_last_count: Option<i64>,
    /// Why it should be counted again.
    pub check: Option<CountCheck>,
    /// How much is ordered and has not arrived, in thousandths.
    pub on_order: i64,
    /// When a step last took from it.
    pub last_used: Option<UnixMs>,
}

impl ShelfRow {
    fn of(material: &KeptMaterial, used: &[&MaterialUse]) -> Self {
        let state = &material.state;
        let on_hand = state.begun().map(|begun| on_hand(state, used, begun));
        let by_last_count = by_last_count(state, used);
        let left = state.open_orders().map(|order| state.left_of(order));
        Self {
            id: material.id,
            check: check(state, on_hand, by_last_count),
            on_hand,
            by_last_count,
            on_order: total(left),
            last_used: used.iter().map(|one| one.at).max(),
            state: state.clone(),
        }
    }

    /// Its name; empty if it has none.
    pub fn name(&self) -> &str {
        self.state.name().unwrap_or_default()
    }

    /// The cost of one unit, without tax, in minor units.
    pub fn cost(&self) -> Option<Minor> {
        self.state.cost()
    }

    /// How much to show as being there, in thousandths of the unit: the sum or, where that has to be checked, what
    /// would be there by the last count alone, which is what a new count will probably find. `None` until it was
    /// counted or has arrived for the first time.
    pub fn shown(&self) -> Option<i64> {
        let by_count = self.by_last_count.filter(|_| self.check.is_some());
        by_count.or(self.on_hand)
    }

    /// Whether less is there, by what is shown, than the least that should be.
    pub fn is_below_least(&self) -> bool {
        let both = self.shown().zip(self.state.least());
        both.is_some_and(|(there, least)| there < least)
    }

    /// How much is missing to the least that should be there, and is not ordered either, in thousandths; 0 if nothing
    /// is, if it need not be watched, or if the shop no longer keeps it.
    pub fn missing(&self) -> i64 {
        if self.state.is_retired() || !self.is_below_least() {
            return 0;
        }
        let least = self.state.least().unwrap_or(0);
        let to_come = self.shown().unwrap_or(0).saturating_add(self.on_order);
        least.saturating_sub(to_come).max(0)
    }

    /// What was seen in the last counts: more than one if they did not know each other.
    pub fn seen(&self) -> impl Iterator<Item = i64> {
        let counts = self.state.last_counts.iter();
        counts.map(|count| count.body.on_hand_thousandths)
    }
}

/// The shelf.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shelf {
    /// The materials by name; those that the shop no longer keeps come last.
    pub rows: Vec<ShelfRow>,
}

impl Shelf {
    /// The shelf, from all materials and everything that jobs have used, in any order.
    pub fn of(materials: &Materials, usage: &[MaterialUse]) -> Self {
        let mut used: BTreeMap<SubjectId, Vec<&MaterialUse>> = BTreeMap::new();
        for one in usage {
            used.entry(one.material).or_default().push(one);
        }
        let none = Vec::new();
        let of = |material: &KeptMaterial| ShelfRow::of(material, used.get(&material.id).unwrap_or(&none));
        let mut rows: Vec<_> = materials.iter().map(of).collect();
        rows.sort_by(by_name);
        Self { rows }
    }

    /// The row of a material, by its canonical id.
    pub fn row(&self, id: SubjectId) -> Option<&ShelfRow> {
        self.rows.iter().find(|row| row.id == id)
    }
}

fn by_name(one: &ShelfRow, other: &ShelfRow) -> Ordering {
    let key = |row: &ShelfRow| (row.state.is_retired(), row.name().to_lowercase(), row.id);
    key(one).cmp(&key(other))
}

/// How much is there: all differences that counts have found, and all that has arrived, less what steps took since
/// the shop began to keep account of it.
fn on_hand(state: &MaterialState, used: &[&MaterialUse], begun: UnixMs) -> i64 {
    let counted = state.counts.iter().map(|count| count.body.difference_thousandths);
    let arrived = state.arrivals.iter().map(|one| i64::from(one.body.thousandths));
    total(counted.chain(arrived).chain(taken_since(used, begun)))
}

/// How much would be there if the last count alone counted.
fn by_last_count(state: &MaterialState, used: &[&MaterialUse]) -> Option<i64> {
    let count = state.last_count()?;
    let since = count.at.utc;
    let later = state.arrivals.iter().filter(|one| one.at.utc > since);
    let arrived = later.map(|one| i64::from(one.body.thousandths));
    let seen = [count.body.on_hand_thousandths].into_iter();
    Some(total(seen.chain(arrived).chain(taken_since(used, since))))
}

/// What steps took after a moment, as negative amounts.
fn taken_since(used: &[&MaterialUse], since: UnixMs) -> impl Iterator<Item = i64> {
    let later = used.iter().filter(move |one| one.at > since);
    later.map(|one| one.thousandths.saturating_neg())
}

fn check(state: &MaterialState, on_hand: Option<i64>, by_last_count: Option<i64>) -> Option<CountCheck> {
    let found = state.last_counts.iter();
    let found = found.filter(|count| count.body.difference_thousandths != 0);
    if found.count() > 1 {
        return Some(CountCheck::Twice);
    }
    (by_last_count.is_some() && by_last_count != on_hand).then_some(CountCheck::Late)
}
