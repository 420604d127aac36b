//! Which blobs a body names.

use std::collections::BTreeSet;

use serde_json::Value;
use shared::log::Entry;

use crate::store::BlobHash;

/// Every blob an entry names. Looks for the word `sha256` anywhere in the body, so that blobs in the bodies of
/// newer apps count too.
pub(crate) fn blobs(entry: &Entry) -> Vec<BlobHash> {
    let mut found = BTreeSet::new();
    // Most entries name none: do not read those at all.
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
