//! What materials cost, in the form in which prices and books ask for it: the list of materials of an operation.
//!
//! The costs are those of today: the cost of a material of the shelf counts for everything that was ever taken of it,
//! as that of the shop's older list does.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

use super::materials::{KeptMaterial, Materials};
use super::usual::{UsualTakes, is_counted_alike};
use crate::log::body::{field, material_field};
use crate::log::entry::SubjectId;
use crate::log::fold::ShopState;
use crate::price::materials::{OF_ANY, Stock};
use crate::price::minor::Minor;

/// The materials of an operation, the usual one first: those of the shop's older list, with the costs of the shelf;
/// then those that the shelf has for the operation; then all others, because a step can take any of them.
pub fn stock_of(shop: &ShopState, materials: &Materials, operation: &str) -> Vec<Stock> {
    let usual = UsualTakes::of(materials, shop);
    let mut all = of_operation(&usual, operation);
    all.extend(of_any(materials));
    all
}

/// The shop's plain fields that hold these lists for every operation. Settings in which they replace the older ones
/// give prices and books the costs of the shelf.
pub fn shelf_fields(shop: &ShopState, materials: &Materials) -> Map<String, Value> {
    let usual = UsualTakes::of(materials, shop);
    let of_list = shop.details.iter();
    let of_list = of_list.filter_map(|(name, _)| material_field::stocked_operation(name));
    let of_shelf = materials.iter().flat_map(|one| one.state.operations());
    let mut operations = BTreeSet::new();
    operations.extend(of_list.chain(of_shelf));
    let mut fields = Map::new();
    for operation in operations {
        put(&mut fields, operation, &of_operation(&usual, operation));
    }
    put(&mut fields, OF_ANY, &of_any(materials));
    fields
}

fn put(fields: &mut Map<String, Value>, operation: &str, list: &[Stock]) {
    // A list of amounts and texts has no keys that JSON lacks.
    let value = serde_json::to_value(list).unwrap_or_default();
    fields.insert(field::stock(operation), value);
}

/// The materials that an operation usually takes.
fn of_operation(usual: &UsualTakes<'_>, operation: &str) -> Vec<Stock> {
    let listed = usual.listed(operation).iter();
    let mut all: Vec<Stock> = listed.map(|one| with_cost(usual, operation, one)).collect();
    let kept = usual.materials().iter().filter(|one| !one.state.is_retired());
    for material in kept.filter(|one| one.state.takes(operation).is_some()) {
        if !all.iter().any(|one| one.id == Some(material.id)) {
            let units = usual.units(material, operation).unwrap_or(0.0);
            all.push(entry(material, material.id, units));
        }
    }
    all
}

/// A line of the older list with what the shelf knows of its material.
fn with_cost(usual: &UsualTakes<'_>, operation: &str, listed: &Stock) -> Stock {
    let material = usual.materials().named(&listed.material);
    let Some(material) = material.filter(|one| is_counted_alike(listed, one)) else {
        return listed.clone();
    };
    let cost_minor = material.state.cost().unwrap_or(listed.cost_minor);
    let mut one = Stock {
        cost_minor,
        id: Some(material.id),
        ..listed.clone()
    };
    if let Some(taken) = material.state.takes(operation) {
        one.quantity = taken as f64 / 1_000.0;
        one.waste = 0.0;
    }
    one
}

/// Every material under each of its ids, taken by no operation in particular.
fn of_any(materials: &Materials) -> Vec<Stock> {
    let entries = materials.iter().flat_map(|one| {
        let ids = one.same.iter();
        ids.map(move |id| entry(one, *id, 0.0))
    });
    entries.collect()
}

/// A material as a line of a list.
fn entry(material: &KeptMaterial, id: SubjectId, quantity: f64) -> Stock {
    let state = &material.state;
    let usual_unit = words::shop::materials::usual_unit();
    Stock {
        material: state.name().unwrap_or("-").to_owned(),
        unit: state.unit().unwrap_or(usual_unit).to_owned(),
        cost_minor: state.cost().unwrap_or(Minor::ZERO),
        quantity,
        waste: 0.0,
        id: Some(id),
    }
}
