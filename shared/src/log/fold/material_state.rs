//! The state of a material: its plain fields, and what was counted, ordered and delivered. What was used is not in
//! it; it follows from the steps of the jobs, see [`shelf`](crate::shelf).

use super::details::Details;
use super::item::Item;
use super::standing::{item, list, newer};
use crate::log::body::{Body, Counted, Delivery, Ordered, field, material_field};
use crate::log::entry::{EntryId, UnixMs};
use crate::log::received::ReceivedEntry;
use crate::log::supersession::{ReadEntry, Supersession};
use crate::price::minor::Minor;
use crate::text::unless_empty;

/// Everything a material's standing entries say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct MaterialState {
    /// Its plain fields.
    pub details: Details,
    /// Every count that was not taken back, in order. Each adds its difference, also one that a later count knew.
    pub counts: Vec<Item<Counted>>,
    /// The counts that no later count knew, in order: one, or several that did not know each other.
    pub last_counts: Vec<Item<Counted>>,
    /// Orders that were not called off.
    pub orders: Vec<Item<Ordered>>,
    /// What has arrived.
    pub arrivals: Vec<Item<Delivery>>,
    /// Entries made by a newer app, which this one keeps but cannot show.
    pub newer: Vec<EntryId>,
}

impl MaterialState {
    /// Folds the entries of one material, or of several that are the same. Any order; no two of one id.
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Self {
        Self::of_standing(&Supersession::of(entries))
    }

    /// Folds the standing entries. Apart from `of`, which is compiled anew for every type of iterator it is given.
    fn of_standing(standing: &Supersession<'_>) -> Self {
        Self {
            details: Details::of(standing),
            counts: counts(standing),
            last_counts: list(standing),
            orders: list(standing),
            arrivals: list(standing),
            newer: newer(standing),
        }
    }

    /// Its name.
    pub fn name(&self) -> Option<&str> {
        self.details.text(field::NAME)
    }

    /// Its colour, in the shop's words.
    pub fn colour(&self) -> Option<&str> {
        self.details.text(field::COLOUR)
    }

    /// What kind of material it is: `sheet`, `piece`, `tin`, or the shop's own word.
    pub fn kind(&self) -> Option<&str> {
        self.details.text(material_field::KIND)
    }

    /// The unit it is counted in.
    pub fn unit(&self) -> Option<&str> {
        self.details.text(material_field::UNIT)
    }

    /// Its size, in the shop's words.
    pub fn size(&self) -> Option<&str> {
        self.details.text(material_field::SIZE)
    }

    /// Its thickness, mm.
    pub fn thickness_mm(&self) -> Option<f64> {
        let thickness = self.details.value(material_field::THICKNESS_MM)?.as_f64()?;
        (thickness > 0.0).then_some(thickness)
    }

    /// Who supplies it.
    pub fn supplier(&self) -> Option<&str> {
        self.details.text(material_field::SUPPLIER)
    }

    /// The cost of one unit, without tax, in minor units: as the shop has noted it, otherwise that of the last
    /// arrival with a cost. `None` where neither is known.
    pub fn cost(&self) -> Option<Minor> {
        let noted = self.details.number(material_field::COST_MINOR).map(Minor);
        let paid = || self.arrivals.iter().rev().find_map(|one| one.body.cost_minor);
        noted.or_else(paid)
    }

    /// The least that should be there, in thousandths of the unit; `None` if it need not be watched.
    pub fn least(&self) -> Option<i64> {
        self.details
            .number(material_field::LEAST)
            .filter(|least| *least > 0)
    }

    /// How much of it a pair usually takes in an operation, in thousandths of the unit, waste included; `None` if it
    /// was not noted.
    pub fn takes(&self, operation: &str) -> Option<i64> {
        self.details
            .number(&material_field::takes(operation))
            .filter(|amount| *amount > 0)
    }

    /// The operations that usually take it.
    pub fn operations(&self) -> impl Iterator<Item = &str> {
        let named = self.details.iter();
        let named =
            named.filter_map(|(name, _)| material_field::taking_operation(name).and_then(unless_empty));
        named.filter(|operation| self.takes(operation).is_some())
    }

    /// Whether the shop no longer keeps it.
    pub fn is_retired(&self) -> bool {
        self.details.is(material_field::RETIRED)
    }

    /// When the shop began to keep account of it: when the first count or arrival was made. What steps took before is
    /// not known to have come from it. `None` if there is neither.
    pub fn begun(&self) -> Option<UnixMs> {
        let counted = self.counts.iter().map(|count| count.at.utc);
        let arrived = self.arrivals.iter().map(|arrival| arrival.at.utc);
        counted.chain(arrived).min()
    }

    /// The latest count, for those who look at one only: of several that did not know each other, the last one in
    /// order.
    pub fn last_count(&self) -> Option<&Item<Counted>> {
        self.last_counts.last()
    }

    /// How much of an order has not arrived, in thousandths of the unit.
    pub fn left_of(&self, order: &Item<Ordered>) -> i64 {
        let arrived = self.arrivals.iter();
        let arrived = arrived.filter(|arrival| arrival.body.order == Some(order.entry));
        let arrived: u64 = arrived.map(|arrival| u64::from(arrival.body.thousandths)).sum();
        i64::try_from(u64::from(order.body.thousandths).saturating_sub(arrived)).unwrap_or(0)
    }

    /// The orders of which something has not arrived.
    pub fn open_orders(&self) -> impl Iterator<Item = &Item<Ordered>> {
        self.orders.iter().filter(|order| self.left_of(order) > 0)
    }
}

/// Every count that was not taken back. What a count has found stays true when a later one names it in `over`.
fn counts(standing: &Supersession<'_>) -> Vec<Item<Counted>> {
    let counted = |read: &ReadEntry<'_>| match &read.body {
        Body::Counted(counted) => Some(item(read, counted.clone())),
        _ => None,
    };
    standing.unretracted().filter_map(counted).collect()
}
