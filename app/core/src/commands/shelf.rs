//! The shelf: materials, counts, orders and arrivals, and what a step takes.

mod typed;
mod waiting;

use serde_json::Value;
use shared::log::body::{
    Body, Counted, Delivery, OperationCode, Ordered, Spent, Used, Wait, field, material_field,
};
use shared::log::fold::{JobState, bench};
use shared::log::{Draft, EntryId, Subject, SubjectId, SubjectKind};
use shared::price::minor::Minor;
use shared::shelf::{KeptMaterial, OrderLine, ShelfRow, opening};

use super::shop::set_value;
use super::work::{spent, spent_before, undo};

pub use typed::{TypedMaterial, read_amount, stepped, with_amounts};
pub use waiting::{WaitingJob, arrived_and_on, go_on, pairs_that_wait, waiting_jobs};

/// What a person has entered of a material. Texts may be empty.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct MaterialForm {
    /// Its name.
    pub name: String,
    /// What kind of material it is.
    pub kind: String,
    /// The unit it is counted in.
    pub unit: String,
    /// Its size.
    pub size: String,
    /// Its thickness, mm; `None` if it is not given.
    pub thickness_mm: Option<f64>,
    /// Its colour.
    pub colour: String,
    /// Who supplies it.
    pub supplier: String,
    /// The cost of one unit, without tax, in minor units.
    pub cost: Option<Minor>,
    /// The least that should be there, in thousandths of the unit; `None` if it need not be watched.
    pub least: Option<i64>,
    /// How much a pair usually takes in an operation, in thousandths of the unit, waste included; 0 for an operation
    /// that no longer takes it.
    pub takes: Vec<(OperationCode, i64)>,
}

impl MaterialForm {
    /// What is known of a material.
    pub fn of(material: &KeptMaterial) -> Self {
        let state = &material.state;
        let text = |text: Option<&str>| text.unwrap_or_default().to_owned();
        let takes = state.operations();
        let takes = takes.filter_map(|operation| Some((operation.into(), state.takes(operation)?)));
        Self {
            name: text(state.name()),
            kind: text(state.kind()),
            unit: text(state.unit()),
            size: text(state.size()),
            thickness_mm: state.thickness_mm(),
            colour: text(state.colour()),
            supplier: text(state.supplier()),
            cost: state.details.number(material_field::COST_MINOR).map(Minor),
            least: state.least(),
            takes: takes.collect(),
        }
    }

    /// Its plain fields. What is not given is null, or an empty text.
    fn fields(&self) -> Vec<(String, Value)> {
        let text = |name: &str, text: &str| (name.to_owned(), Value::from(text.trim()));
        let mut fields = vec![
            text(field::NAME, &self.name),
            text(material_field::KIND, &self.kind),
            text(material_field::UNIT, &self.unit),
            text(material_field::SIZE, &self.size),
            text(field::COLOUR, &self.colour),
            text(material_field::SUPPLIER, &self.supplier),
            (material_field::THICKNESS_MM.to_owned(), self.thickness_mm.into()),
            (
                material_field::COST_MINOR.to_owned(),
                self.cost.map_or(Value::Null, Value::from),
            ),
            (material_field::LEAST.to_owned(), self.least.into()),
        ];
        let takes = self.takes.iter();
        fields.extend(takes.map(|(operation, amount)| (material_field::takes(operation), (*amount).into())));
        fields
    }
}

fn subject_of(material: SubjectId) -> Subject {
    Subject::new(SubjectKind::Material, material)
}

fn on_shelf(material: SubjectId, body: Body) -> Draft {
    Draft::new(subject_of(material), body)
}

/// Puts a new material on the shelf.
pub fn add(material: SubjectId, form: &MaterialForm) -> Vec<Draft> {
    let mut fields = form.fields();
    fields.retain(|(_, value)| !value.is_null() && value != "");
    opening(material, fields)
}

/// Changes the fields that the form has differently; none if nothing would change.
pub fn edit(material: &KeptMaterial, form: &MaterialForm) -> Vec<Draft> {
    let details = &material.state.details;
    let is_unset = |name: &str, value: &Value| {
        let nothing = value.is_null() || value == "" || value.as_i64() == Some(0);
        nothing && details.value(name).is_none()
    };
    let changed = form.fields().into_iter();
    changed
        .filter(|(name, value)| !is_unset(name, value))
        .filter_map(|(name, value)| set_value(subject_of(material.id), details, &name, value))
        .collect()
}

/// Takes a material off the list, or puts it back. `None` if nothing would change.
pub fn retire(material: &KeptMaterial, retired: bool) -> Option<Draft> {
    if material.state.is_retired() == retired {
        return None;
    }
    let details = &material.state.details;
    set_value(
        subject_of(material.id),
        details,
        material_field::RETIRED,
        retired.into(),
    )
}

/// Notes how much of a material a pair usually takes in an operation, in thousandths of the unit, waste included. `None`
/// if nothing would change.
pub fn usually_takes(material: &KeptMaterial, operation: &str, thousandths: i64) -> Option<Draft> {
    let field = material_field::takes(operation);
    set_value(
        subject_of(material.id),
        &material.state.details,
        &field,
        thousandths.into(),
    )
}

/// Records what was seen, in thousandths of the unit, as the difference to what this device expects. It names the
/// latest counts that the device knows; their differences stay.
pub fn count(row: &ShelfRow, seen: i64) -> Draft {
    let known = row.state.last_counts.iter().map(|count| count.entry);
    counted(row.id, row.on_hand.unwrap_or(0), seen).over(known.collect())
}

/// Records what was seen of a material that is put on the shelf in the same save.
pub fn first_count(material: SubjectId, seen: i64) -> Draft {
    counted(material, 0, seen)
}

fn counted(material: SubjectId, expected: i64, seen: i64) -> Draft {
    let counted = Counted {
        difference_thousandths: seen.saturating_sub(expected),
        on_hand_thousandths: seen,
    };
    on_shelf(material, Body::Counted(counted))
}

/// Records that so much was ordered, in thousandths of the unit.
pub fn order(material: SubjectId, thousandths: u32, note: &str) -> Draft {
    let note = note.trim().to_owned();
    on_shelf(material, Body::Ordered(Ordered { thousandths, note }))
}

/// Records that an order list was sent, as it is.
pub fn order_all(lines: &[OrderLine]) -> Vec<Draft> {
    let amount = |line: &OrderLine| u32::try_from(line.thousandths).unwrap_or(u32::MAX);
    lines
        .iter()
        .map(|line| order(line.material, amount(line), ""))
        .collect()
}

/// Calls an order off. What has arrived for it stays.
pub fn call_off(material: SubjectId, order: EntryId) -> Draft {
    undo(subject_of(material), order)
}

/// Records that so much has arrived, in thousandths of the unit, for an order or for none, and what a unit of it cost.
pub fn arrived(
    material: SubjectId,
    order: Option<EntryId>,
    thousandths: u32,
    cost_minor: Option<Minor>,
) -> Draft {
    let arrival = Delivery {
        order,
        thousandths,
        cost_minor,
    };
    on_shelf(material, Body::Delivery(arrival))
}

/// Records what a step took from the shelf, in place of what was said of it before. Its noted minutes and its cement
/// stay.
/// [`suggestions`](shared::shelf::suggestions) tells what it probably took.
pub fn take(job: SubjectId, state: &JobState, step: EntryId, used: Vec<Used>) -> Draft {
    let made = state.steps.iter().find(|made| made.entry == step);
    let minutes = made.and_then(|made| bench::noted_minutes(state, made));
    let cement = bench::spent_on(state, step).and_then(|spent| spent.cement.clone());
    let body = Spent {
        step,
        minutes,
        used,
        cement,
    };
    spent(job, body).over(spent_before(state, step))
}

/// A step, or what is said of one afterwards, that takes this from the shelf; a draft of anything else stays as it is.
#[must_use]
pub fn taking(mut step: Draft, used: Vec<Used>) -> Draft {
    match &mut step.body {
        Body::Step(made) => made.used = used,
        Body::Spent(spent) => spent.used = used,
        _ => {}
    }
    step
}

/// A wait for a material with this name until some of it arrives. An older app shows the name.
pub fn waiting_for(material: SubjectId, name: &str) -> Wait {
    Wait {
        material: Some(material),
        ..Wait::ordered(name)
    }
}

#[cfg(test)]
mod tests;
