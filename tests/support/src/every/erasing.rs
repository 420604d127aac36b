//! The entries of erasing that concern one stay.

use serde_json::json;
use shared::log::body::{ErasureAsked, MentionErased, Note};
use shared::log::{Body, EntryId, Subject};

/// Asks for the erasure of a customer, and erases what a remark on a job says of them.
pub(super) fn erase(
    customer: &Subject,
    job: &Subject,
    write: &mut dyn FnMut(&Subject, Body, Vec<EntryId>) -> EntryId,
) {
    let asked = Body::ErasureAsked(ErasureAsked { blob: None });
    write(customer, asked, Vec::new());
    let said = Note {
        of: None,
        text: "Dark edges, as Ada Example asked".to_owned(),
        voice: None,
    };
    let entry = write(job, Body::Note(said), Vec::new());
    let left = Some(json!({ "text": "Dark edges, as … asked" }));
    let erased = Body::MentionErased(MentionErased { entry, left });
    write(job, erased, Vec::new());
}
