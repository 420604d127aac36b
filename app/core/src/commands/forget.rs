//! Erasing a customer together with what other entries say of them.

use shared::log::body::{Body, Erased, MentionErased, Withdrawn, field};
use shared::log::fold::JobState;
use shared::log::mentions::{Mention, PersonNames};
use shared::log::{Draft, PersonId, ReceivedEntry, Subject, SubjectKind};

use super::export::CustomerRecords;

/// Every name and telephone number that the customer has or had.
pub fn names_of(records: &CustomerRecords) -> PersonNames {
    let details = records
        .entries
        .iter()
        .filter_map(|held| match Body::of(&held.entry) {
            Body::Detail(detail) if held.entry.subject.kind == SubjectKind::Customer => Some(detail),
            _ => None,
        });
    let details: Vec<_> = details.collect();
    let values = |name: &'static str| {
        let of_field = details.iter().filter(move |detail| detail.field == name);
        of_field.filter_map(|detail| detail.value.as_str())
    };
    // A field with further numbers has several, separated by commas.
    let further = values(field::PHONE_SECOND).flat_map(|numbers| numbers.split(','));
    PersonNames::new(values(field::NAME), values(field::PHONE).chain(further))
}

/// The jobs of the customer whose sections stand on a care card.
pub fn on_cards(records: &CustomerRecords) -> Vec<Subject> {
    let jobs = records
        .subjects
        .iter()
        .filter(|subject| subject.kind == SubjectKind::Job);
    let is_shown = |job: &&Subject| !JobState::of(records.about(job)).published.is_empty();
    jobs.filter(is_shown).cloned().collect()
}

/// Erases the customer under every id, takes the customer's sections off the care cards, and erases these mentions. A
/// section that mentions the customer on the card of another one is taken off, too.
pub fn erase(
    customers: &[Subject],
    on_cards: &[Subject],
    mentions: &[(ReceivedEntry, Mention)],
    person: Option<PersonId>,
) -> Vec<Draft> {
    let of_mention = |(held, mention): &(ReceivedEntry, Mention)| {
        let body = MentionErased {
            entry: held.entry.id,
            left: mention.left.clone(),
        };
        Draft::new(held.entry.subject.clone(), Body::MentionErased(body))
    };
    let sections = mentions.iter().filter(|(held, _)| held.entry.kind == "published");
    let sections = sections.map(|(held, _)| &held.entry.subject);
    let others = sections.filter(|job| !on_cards.contains(job));
    let off_card = |job: &Subject| Draft::new(job.clone(), Body::Withdrawn(Withdrawn {}));
    let erased = |customer: &Subject| Draft::new(customer.clone(), Body::Erased(Erased { blob: None }));
    let drafts = on_cards.iter().chain(others).map(off_card);
    let drafts = drafts.chain(mentions.iter().map(of_mention));
    let drafts = drafts.chain(customers.iter().map(erased));
    drafts.map(|draft| draft.by(person)).collect()
}

#[cfg(test)]
mod tests;
