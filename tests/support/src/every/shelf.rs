//! The entries about a material of the shelf.

use serde_json::{Value, json};
use shared::log::body::{Counted, Delivery, Detail, Opened, Ordered, SHELF, field, material_field};
use shared::log::{Body, EntryId, Subject, SubjectId, SubjectKind};
use shared::price::minor::Minor;
use uuid::Uuid;

use super::Stay;

/// Sets the id of a stay's material apart from that of its pair: a bit that no other id of a pen has.
const APART: u128 = 1 << 60;

impl Stay {
    /// The material that its steps take. Its id follows from that of the pair.
    pub fn material(&self) -> Subject {
        let id = Uuid::from_u128(self.pair.id.0.as_u128() ^ APART);
        Subject::new(SubjectKind::Material, SubjectId(id))
    }
}

/// Puts a material on the shelf, orders it and counts it twice.
pub(super) fn keep(material: &Subject, write: &mut dyn FnMut(&Subject, Body, Vec<EntryId>) -> EntryId) {
    let on_shelf = Opened {
        customer: Some(SHELF),
        ..Opened::default()
    };
    write(material, Body::Opened(on_shelf), Vec::new());
    let fields: [(String, Value); 11] = [
        (field::NAME.to_owned(), json!("Rubber sheet")),
        (field::COLOUR.to_owned(), json!("black")),
        (material_field::KIND.to_owned(), json!("sheet")),
        (material_field::UNIT.to_owned(), json!("sheet")),
        (material_field::SIZE.to_owned(), json!("60 × 40 cm")),
        (material_field::THICKNESS_MM.to_owned(), json!(6.5)),
        (material_field::SUPPLIER.to_owned(), json!("Brack & Daughters")),
        (material_field::COST_MINOR.to_owned(), json!(2400)),
        (material_field::LEAST.to_owned(), json!(2000)),
        (material_field::takes("half_sole"), json!(156)),
        (material_field::RETIRED.to_owned(), json!(false)),
    ];
    for (name, value) in fields {
        let detail = Detail { field: name, value };
        write(material, Body::Detail(detail), Vec::new());
    }
    let counted = |difference_thousandths, on_hand_thousandths| {
        Body::Counted(Counted {
            difference_thousandths,
            on_hand_thousandths,
        })
    };
    let first = write(material, counted(1500, 1500), Vec::new());
    let ordered = Ordered {
        thousandths: 4000,
        note: "with the cement".to_owned(),
    };
    let order = write(material, Body::Ordered(ordered), Vec::new());
    let arrival = Delivery {
        order: Some(order),
        thousandths: 3000,
        cost_minor: Some(Minor(2350)),
    };
    write(material, Body::Delivery(arrival), Vec::new());
    write(material, counted(-250, 4250), vec![first]);
}
