//! What a step takes from the shelf: as it says itself, or as such steps usually do.

use std::collections::BTreeMap;

use super::amount::thousandths;
use super::materials::{KeptMaterial, Materials};
use crate::log::body::{Used, material_field};
use crate::log::entry::SubjectId;
use crate::log::fold::ShopState;
use crate::price::materials::{Stock, stock};
use crate::price::records::StepFact;

/// The materials, and the shop's older list of what each operation uses.
#[derive(Debug)]
pub struct UsualTakes<'a> {
    materials: &'a Materials,
    listed: BTreeMap<String, Vec<Stock>>,
}

impl<'a> UsualTakes<'a> {
    /// Reads the older list from the shop's settings.
    pub fn of(materials: &'a Materials, shop: &ShopState) -> Self {
        let named = shop.details.iter();
        let operations = named.filter_map(|(name, _)| material_field::stocked_operation(name));
        let mut listed = BTreeMap::new();
        for operation in operations {
            listed.insert(operation.to_owned(), stock(shop, operation));
        }
        Self { materials, listed }
    }

    /// The materials.
    pub fn materials(&self) -> &'a Materials {
        self.materials
    }

    /// The older list of an operation.
    pub fn listed(&self, operation: &str) -> &[Stock] {
        self.listed.get(operation).map_or(&[], Vec::as_slice)
    }

    /// What a step takes, in thousandths of the unit of each material, what was wasted included. What is not on the
    /// shelf is left out.
    ///
    /// A step that does not say what it used takes the usual amount of the operation's first material, on one shoe half of
    /// it, and for so many pieces so many times that.
    pub fn taken(&self, step: &StepFact) -> Vec<(SubjectId, i64)> {
        if step.used.is_empty() {
            let usual = self.usual(&step.operation);
            let taken = usual.map(|(id, units)| (id, thousandths(units * step.takes())));
            return taken.into_iter().collect();
        }
        let stated = step.used.iter();
        stated
            .filter_map(|used| self.stated(&step.operation, used))
            .collect()
    }

    /// The units of a material that a pair takes in an operation, waste included; `None` if that is not known.
    pub fn units(&self, material: &KeptMaterial, operation: &str) -> Option<f64> {
        let noted = material
            .state
            .takes(operation)
            .map(|amount| amount as f64 / 1_000.0);
        noted.or_else(|| {
            let is_it = |one: &&Stock| {
                let named = self.materials.named(&one.material);
                named.is_some_and(|known| known.id == material.id) && is_counted_alike(one, material)
            };
            let one = self.listed(operation).iter().find(is_it)?;
            Some(one.quantity * (1.0 + one.waste))
        })
    }

    /// The material that an operation takes if the step does not say, with the units for a pair: the first of the
    /// older list; where that has none, the only material that is kept for the operation. Of several nobody knows
    /// which one it was.
    fn usual(&self, operation: &str) -> Option<(SubjectId, f64)> {
        let material = match self.listed(operation).first() {
            Some(first) => self.materials.named(&first.material)?,
            None => {
                let kept = self.materials.iter().filter(|one| !one.state.is_retired());
                let mut takers = kept.filter(|one| one.state.takes(operation).is_some());
                takers.next().filter(|_| takers.next().is_none())?
            }
        };
        Some((material.id, self.units(material, operation)?))
    }

    /// What a step says that it used. An older app names the material, and says the amount without what was wasted.
    fn stated(&self, operation: &str, used: &Used) -> Option<(SubjectId, i64)> {
        let amount = i64::from(used.thousandths);
        if let Some(id) = used.material_id {
            return Some((self.materials.get(id)?.id, amount));
        }
        let material = self.materials.named(&used.material)?;
        let Some(one) = self
            .listed(operation)
            .iter()
            .find(|one| one.material == used.material)
        else {
            return Some((material.id, amount));
        };
        let units = f64::from(used.thousandths) / 1_000.0 * (1.0 + one.waste);
        is_counted_alike(one, material).then(|| (material.id, thousandths(units)))
    }
}

/// Whether the older list counts a material in the unit that it has on the shelf. Amounts in another unit say nothing
/// about what is there.
pub(super) fn is_counted_alike(listed: &Stock, material: &KeptMaterial) -> bool {
    material.state.unit().is_none_or(|unit| unit == listed.unit)
}
