//! Which subjects an entry concerns besides the one in its envelope.

use super::body::Body;
use super::entry::{Entry, SubjectId};

/// The subjects an entry concerns: its own first, then those its body links to.
///
/// Both the phone and the server index entries by these, so that "everything about this pair" is one look-up.
/// A blanked or unknown body links to nothing.
pub fn about(entry: &Entry) -> Vec<SubjectId> {
    let mut ids = vec![entry.subject.id];
    match Body::of(entry) {
        Body::Opened(opened) => ids.extend(
            [opened.pair, opened.ticket, opened.customer]
                .into_iter()
                .flatten(),
        ),
        Body::Published(published) => ids.push(published.pair),
        Body::SameAs(same) => ids.push(same.other),
        Body::Complaint(complaint) => ids.push(complaint.job),
        _ => {}
    }
    // A subject linked to itself is still one subject.
    let own = ids[0];
    let mut seen = Vec::with_capacity(ids.len());
    ids.retain(|id| {
        (seen.is_empty() || *id != own) && !seen.contains(id) && {
            seen.push(*id);
            true
        }
    });
    ids
}
