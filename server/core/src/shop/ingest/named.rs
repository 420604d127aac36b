//! Finds the blobs that a body names.

use std::collections::BTreeSet;

use serde_json::Value;
use shared::log::Entry;

use crate::store::BlobHash;

/// Every blob that an entry names. Any field `sha256` counts, at any depth, so that blobs in bodies of a newer app's
/// kinds count too.
pub(crate) fn blobs(entry: &Entry) -> Vec<BlobHash> {
    let mut found = BTreeSet::new();
    // Most entries name no blob; their bodies need not be parsed.
    if entry.body.contains("\"sha256\"")
        && let Ok(body) = serde_json::from_str(&entry.body)
    {
        walk(&body, &mut found);
    }
    found.into_iter().collect()
}

fn walk(value: &Value, found: &mut BTreeSet<BlobHash>) {
    match value {
        Value::Object(fields) => {
            if let Some(hash) = fields
                .get("sha256")
                .and_then(Value::as_str)
                .and_then(|text| text.parse().ok())
            {
                found.insert(hash);
            }
            fields.values().for_each(|inner| walk(inner, found));
        }
        Value::Array(items) => items.iter().for_each(|inner| walk(inner, found)),
        _ => {}
    }
}
