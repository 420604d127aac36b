//! Which subjects an entry concerns besides the one in its envelope.

use super::body::{Body, MentionErased};
use super::entry::{Entry, SubjectId};

/// The subjects an entry concerns: its own first, then those its body links to.
///
/// Both the phone and the server index entries by these, so that "everything about this pair" is one look-up.
/// A blanked or unknown body links to nothing. A complaint that was blanked for a mention is still about the earlier
/// job: the entry that erases the mention links to it in its place.
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
        Body::MentionErased(erased) => ids.extend(earlier_job(erased)),
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

/// The earlier job of a complaint in which a mention is erased. What is left can itself be an entry that erases a mention.
/// No body of another kind has the fields of a complaint.
fn earlier_job(erased: MentionErased) -> Option<SubjectId> {
    let left = erased.left?;
    match Body::of_value("mention_erased", &left) {
        Body::MentionErased(inner) => earlier_job(inner),
        _ => match Body::of_value("complaint", &left) {
            Body::Complaint(complaint) => Some(complaint.job),
            _ => None,
        },
    }
}
