//! The plain fields of a subject.

use std::collections::BTreeMap;

use serde_json::{Map, Value};
use uuid::Uuid;

use super::item::{Item, Slot};
use super::standing::{current, item};
use crate::log::body::Body;
use crate::log::entry::{EntryId, MadeAt, UnixMs};
use crate::log::inserted;
use crate::log::supersession::{ReadEntry, Supersession};
use crate::text::unless_empty;

/// The current values of plain fields, by name. Each state has methods for the fields that this version knows.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Details {
    fields: BTreeMap<String, Slot<Value>>,
}

impl Details {
    /// The plain fields that standing entries set.
    pub(super) fn of(standing: &Supersession<'_>) -> Self {
        Self {
            fields: fields(standing),
        }
    }

    /// Fields with these values, which no entry has set.
    pub fn of_values(values: &Map<String, Value>) -> Self {
        let nobody = |value: &Value| Item {
            entry: EntryId(Uuid::nil()),
            at: MadeAt {
                utc: UnixMs(0),
                offset_min: 0,
            },
            person: None,
            body: value.clone(),
        };
        let slot = |value: &Value| Slot {
            current: nobody(value),
            rivals: Vec::new(),
        };
        Self {
            fields: inserted(values.iter().map(|(name, value)| (name.clone(), slot(value)))),
        }
    }

    /// Every field, by name.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Slot<Value>)> {
        self.fields.iter().map(|(name, slot)| (name.as_str(), slot))
    }

    /// A field with its rivals.
    pub fn get(&self, field: &str) -> Option<&Slot<Value>> {
        self.fields.get(field)
    }

    /// The current value of a field.
    pub fn value(&self, field: &str) -> Option<&Value> {
        self.get(field).map(|slot| &slot.current.body)
    }

    /// The current text of a field; `None` if it is unset, empty or not text.
    pub fn text(&self, field: &str) -> Option<&str> {
        self.value(field)?.as_str().and_then(unless_empty)
    }

    /// The current whole number of a field; `None` if it is unset or not a whole number.
    pub fn number(&self, field: &str) -> Option<i64> {
        self.value(field)?.as_i64()
    }

    /// Whether a field is set to `true`.
    pub fn is(&self, field: &str) -> bool {
        self.value(field).and_then(Value::as_bool).unwrap_or(false)
    }

    /// The members of a field that holds a list; empty if unset.
    pub fn list<'a>(&'a self, field: &str) -> impl Iterator<Item = &'a Value> + use<'a> {
        self.value(field).and_then(Value::as_array).into_iter().flatten()
    }

    /// The words of a field that holds a list of them; empty if unset.
    pub fn words<'a>(&'a self, field: &str) -> impl Iterator<Item = &'a str> + use<'a> {
        self.list(field).filter_map(Value::as_str)
    }

    /// The entries that a new value of a field must name in `over`.
    pub fn over(&self, field: &str) -> Vec<EntryId> {
        self.get(field).map(Slot::entries).unwrap_or_default()
    }
}

/// The plain fields by name. The entries are grouped by field in one pass, because a shop has hundreds of prices.
fn fields(standing: &Supersession<'_>) -> BTreeMap<String, Slot<Value>> {
    let detail = |read: &ReadEntry<'_>| match &read.body {
        Body::Detail(detail) => Some(detail.clone()),
        _ => None,
    };
    let mut by_field: BTreeMap<String, Vec<&ReadEntry<'_>>> = BTreeMap::new();
    for read in standing.history() {
        if let Body::Detail(detail) = &read.body {
            by_field.entry(detail.field.clone()).or_default().push(read);
        }
    }
    inserted(by_field.into_iter().filter_map(|(field, entries)| {
        let heads = standing.heads_of(entries).into_iter();
        let values = heads.filter_map(|read| Some(item(read, detail(read)?.value)));
        Some((field, current(values.collect())?))
    }))
}
