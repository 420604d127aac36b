//! Taking over the shop's older list of what each operation uses.

use std::collections::BTreeMap;

use serde_json::Value;

use super::amount::thousandths;
use super::listed::listed_id;
use super::materials::Materials;
use crate::log::body::{Body, Detail, Opened, SHELF, field, material_field};
use crate::log::draft::Draft;
use crate::log::entry::{Subject, SubjectId, SubjectKind};
use crate::log::fold::ShopState;
use crate::price::materials::{OF_ANY, stock};

/// The drafts that open a material and set these plain fields.
pub fn opening(material: SubjectId, fields: Vec<(String, Value)>) -> Vec<Draft> {
    let subject = Subject::new(SubjectKind::Material, material);
    let opened = Opened {
        customer: Some(SHELF),
        ..Opened::default()
    };
    let details = fields.into_iter().map(|(field, value)| {
        let detail = Detail { field, value };
        Draft::new(subject.clone(), Body::Detail(detail))
    });
    let opened = Draft::new(subject.clone(), Body::Opened(opened));
    std::iter::once(opened).chain(details).collect()
}

/// The materials of the older list that are not on the shelf, as drafts for one save; none if all are. The older list
/// stays as it is, for older apps.
///
/// A material's id follows from its name, see [`listed_id`]: doing it twice, or on two devices, makes no material
/// twice. Its unit and cost are those of its first line. A line in another unit is not taken over, because its
/// amounts are of something else.
pub fn drafts_from_stock(shop: &ShopState, known: &Materials) -> Vec<Draft> {
    let mut found = BTreeMap::new();
    let fields = shop.details.iter();
    let operations = fields.filter_map(|(name, _)| material_field::stocked_operation(name));
    for operation in operations.filter(|operation| *operation != OF_ANY) {
        let new = stock(shop, operation)
            .into_iter()
            .filter(|one| one.id.is_none() && known.named(&one.material).is_none());
        for one in new {
            let units = one.quantity * (1.0 + one.waste);
            let taken = Value::from(thousandths(units));
            let (first, takes) = found
                .entry(listed_id(&one.material))
                .or_insert_with(|| (one.clone(), Vec::<(String, Value)>::new()));
            let name = material_field::takes(operation);
            if first.unit == one.unit && !takes.iter().any(|(known, _)| *known == name) {
                takes.push((name, taken));
            }
        }
    }
    let drafts = found.into_iter().flat_map(|(id, (first, takes))| {
        let mut fields: Vec<(String, Value)> = vec![
            (field::NAME.to_owned(), first.material.trim().into()),
            (material_field::UNIT.to_owned(), first.unit.into()),
            (material_field::COST_MINOR.to_owned(), first.cost_minor.into()),
        ];
        fields.extend(takes);
        opening(id, fields)
    });
    drafts.collect()
}
