//! Finds the blobs that a body names.

use std::borrow::Cow;
use std::collections::BTreeSet;

use serde::de::IgnoredAny;
use shared::log::Entry;

use crate::store::BlobHash;

/// The field that names a blob, in bodies of every kind.
const FIELD: &str = "sha256";

/// Every blob that an entry names. Any field `sha256` counts, at any depth, so that blobs in bodies of a newer app's
/// kinds count too; so does a hash in capitals. What an erasure destroys is found this way: nothing may hide from it.
///
/// The text is read without recursion, so its nesting cannot overflow the stack. Only [`Entry::MAX_BODY`] bounds it.
pub(crate) fn blobs(entry: &Entry) -> Vec<BlobHash> {
    named(&entry.body).into_iter().collect()
}

fn named(body: &str) -> BTreeSet<BlobHash> {
    let mut found = BTreeSet::new();
    // Most entries name no blob; their bodies need not be read. The field's name may be written with escapes.
    if !body.contains(FIELD) && !body.contains('\\') {
        return found;
    }
    // The library skips a value without recursion, unlike one that it keeps.
    if serde_json::from_str::<IgnoredAny>(body).is_err() {
        return found;
    }
    let mut rest = body;
    while let Some((name, after)) = next_string(rest) {
        rest = after;
        // Only the name of a field is followed by a colon.
        if let Some(value) = after.trim_start().strip_prefix(':')
            && unescaped(name).is_some_and(|name| name == FIELD)
            && value.trim_start().starts_with('"')
            && let Some((hash, _)) = next_string(value)
        {
            let hash = unescaped(hash).and_then(|hash| hash.to_ascii_lowercase().parse::<BlobHash>().ok());
            found.extend(hash);
        }
    }
    found
}

/// The next string in JSON, as it is written between its quotation marks, and the text after it.
fn next_string(json: &str) -> Option<(&str, &str)> {
    let (_, begun) = json.split_once('"')?;
    let mut escaped = false;
    let end = begun.bytes().position(|byte| {
        let ends = byte == b'"' && !escaped;
        escaped = byte == b'\\' && !escaped;
        ends
    })?;
    Some((&begun[..end], &begun[end + 1..]))
}

/// A string of JSON without its escapes; `None` if it is no valid text.
fn unescaped(written: &str) -> Option<Cow<'_, str>> {
    if written.contains('\\') {
        let text = serde_json::from_str::<String>(&format!("\"{written}\""));
        text.ok().map(Cow::Owned)
    } else {
        Some(Cow::Borrowed(written))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HASH: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

    fn finds(body: &str) -> bool {
        let found = named(body);
        let hash = HASH.parse().unwrap();
        assert!(found.is_empty() || found == BTreeSet::from([hash]), "{found:?}");
        !found.is_empty()
    }

    #[test]
    fn a_blob_is_found_however_deep_it_is_and_however_it_is_written() {
        let deep = 100_000;
        let (open, close) = ("[".repeat(deep), "]".repeat(deep));
        let capitals = HASH.to_uppercase();
        let escaped = HASH.replacen('b', "\\u0062", 1);
        for body in [
            format!(r#"{{"sha256":"{HASH}"}}"#),
            format!(r#"{{ "sha256" :{}"{HASH}" }}"#, "\n\t"),
            format!(r#"[{{"a":{{"of":[1,{{"sha256":"{HASH}","b":null}}]}}}}]"#),
            format!(r#"{{"sha256":"{capitals}"}}"#),
            format!(r#"{{"sha256":"{escaped}"}}"#),
            format!(r#"{{"sh\u0061256":"{HASH}"}}"#),
            // Deeper than the library reads a value that it keeps.
            format!(r#"{open}{{"sha256":"{HASH}"}}{close}"#),
            format!(r#"{{"more":{open}{close},"full":{{"sha256":"{HASH}"}}}}"#),
            // Strings that could be taken for the end of another one, or that are no text.
            format!(r#"{{"a\\":"\"","b":"\\\"","sha256":"{HASH}"}}"#),
            format!(r#"{{"a":"\ud800","sha256":"{HASH}"}}"#),
        ] {
            assert!(finds(&body), "{body:.200}");
        }
    }

    #[test]
    fn what_only_looks_like_a_name_is_none() {
        for body in [
            String::new(),
            "not json".to_owned(),
            format!(r#""sha256" "{HASH}""#),
            format!(r#"["sha256","{HASH}"]"#),
            format!(r#"{{"sha256":["{HASH}"],"sha255":"{HASH}"}}"#),
            format!(r#"{{"note":"\"sha256\":\"{HASH}\""}}"#),
            format!(r#"{{"sha256":"{HASH}0","sha256":"","sha256":null}}"#),
            // Cut off.
            format!(r#"{{"sha256":"{HASH}""#),
        ] {
            assert!(!finds(&body), "{body}");
        }
    }
}
