//! Converts rows to JavaScript objects and back.

use js_sys::{Array, Object, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};

use crate::browser::js::{property, set};
use crate::store::kv::{Row, RowValue, Table};

/// The property of the primary key.
pub(super) const KEY: &str = "k";
const TEXT: &str = "t";
const BYTES: &str = "b";

/// The object for a row.
pub(super) fn write(table: Table, row: &Row) -> JsValue {
    let object = Object::new();
    set(&object, KEY, &JsValue::from_str(&row.key));
    for index in table.indexes {
        let values: Array = row
            .indexed
            .iter()
            .filter(|(name, _)| name == index)
            .map(|(_, value)| JsValue::from_str(value))
            .collect();
        // A row without the property is not in the index.
        if values.length() > 0 {
            set(&object, index, &values);
        }
    }
    match &row.value {
        RowValue::Text(text) => set(&object, TEXT, &JsValue::from_str(text)),
        RowValue::Bytes(bytes) => set(&object, BYTES, &Uint8Array::from(bytes.as_slice())),
    }
    object.into()
}

/// The row of an object, with its values in these indexes; `None` for `undefined` and for objects of another shape.
pub(super) fn read(indexes: &[&'static str], object: &JsValue) -> Option<Row> {
    if !object.is_object() {
        return None;
    }
    let key = property(object, KEY)?.as_string()?;
    let mut indexed = Vec::new();
    for index in indexes {
        let Some(values) = property(object, index) else {
            continue;
        };
        let values = values
            .dyn_into::<Array>()
            .unwrap_or_else(|single| Array::of1(&single));
        indexed.extend(
            values
                .iter()
                .filter_map(|value| Some((*index, value.as_string()?))),
        );
    }
    let text = property(object, TEXT)
        .and_then(|text| text.as_string())
        .map(RowValue::Text);
    let bytes = || {
        Some(RowValue::Bytes(
            property(object, BYTES)?.dyn_into::<Uint8Array>().ok()?.to_vec(),
        ))
    };
    Some(Row {
        key,
        indexed,
        value: text.or_else(bytes)?,
    })
}
