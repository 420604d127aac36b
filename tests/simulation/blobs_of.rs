//! Which photographs and voice notes an entry of the simulation names.

use shared::log::body::MentionErased;
use shared::log::{Body, Entry};

/// Their hashes; also those in what an entry leaves of another one.
pub(crate) fn blobs_of(entry: &Entry) -> Vec<String> {
    let mut body = Body::of(entry);
    while let Body::MentionErased(MentionErased { left: Some(left), .. }) = body {
        body = match Body::of_value("mention_erased", &left) {
            Body::Unknown => Body::of_value("note", &left),
            inner => inner,
        };
    }
    match body {
        Body::Photo(photo) => vec![photo.full.sha256, photo.thumb.sha256],
        Body::Note(note) => note.voice.into_iter().map(|voice| voice.sha256).collect(),
        _ => Vec::new(),
    }
}
