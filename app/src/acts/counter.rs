//! At the counter: taking a pair in.

use shared::log::body::{Agreed, CardLink, Detail, Opened, field};
use shared::log::{Body, Subject, SubjectId, SubjectKind};

use crate::device::store::Draft;

/// What the drop-off screen has asked. Empty text means "not said" and writes nothing.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct DropOff {
    /// Who brings it; a customer already known, if chosen.
    pub known_customer: Option<SubjectId>,
    /// Their name.
    pub name: String,
    /// Their telephone number.
    pub phone: String,
    /// The pair, if it has been here before.
    pub known_pair: Option<SubjectId>,
    /// What it is.
    pub look: String,
    /// Its colour.
    pub colour: String,
    /// Its maker.
    pub maker: String,
    /// The operation agreed, a word of the trade list or the shop's own.
    pub operation: String,
    /// Its price in minor units.
    pub price_minor: i64,
    /// The day promised, `YYYY-MM-DD`.
    pub day: String,
    /// The shop's own tag number; empty to take the app's next.
    pub tag: String,
}

/// The subjects a drop-off concerns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TakenIn {
    /// Who brought it, if anything is known of them.
    pub customer: Option<SubjectId>,
    /// The ticket.
    pub ticket: SubjectId,
    /// The pair.
    pub pair: SubjectId,
    /// The job.
    pub job: SubjectId,
}

/// The entries of a drop-off. `new_id` gives fresh subject ids, `secret` a fresh card secret for a new pair.
pub fn take_in(
    form: &DropOff,
    mut new_id: impl FnMut() -> SubjectId,
    secret: String,
) -> (TakenIn, Vec<Draft>) {
    let mut drafts = Vec::new();
    let customer = customer(form, &mut new_id, &mut drafts);
    let ticket = new_id();
    let ticket_subject = Subject::new(SubjectKind::Ticket, ticket);
    drafts.push(draft(
        &ticket_subject,
        Body::Opened(Opened {
            customer,
            ..Opened::default()
        }),
    ));
    say(&ticket_subject, field::DAY, &form.day, &mut drafts);

    let pair = form.known_pair.unwrap_or_else(&mut new_id);
    if form.known_pair.is_none() {
        new_pair(form, pair, customer, secret, &mut drafts);
    }

    let job = new_id();
    let job_subject = Subject::new(SubjectKind::Job, job);
    let opened = Opened {
        pair: Some(pair),
        ticket: Some(ticket),
        customer: None,
    };
    drafts.push(draft(&job_subject, Body::Opened(opened)));
    let agreed = Agreed::at(&form.operation, form.price_minor);
    drafts.push(draft(&job_subject, Body::Agreed(agreed)));
    if form.tag.trim().is_empty() {
        drafts.push(Draft::next_tag(job_subject));
    } else {
        say(&job_subject, field::TAG, &form.tag, &mut drafts);
    }
    (
        TakenIn {
            customer,
            ticket,
            pair,
            job,
        },
        drafts,
    )
}

fn customer(
    form: &DropOff,
    new_id: &mut impl FnMut() -> SubjectId,
    drafts: &mut Vec<Draft>,
) -> Option<SubjectId> {
    if form.known_customer.is_some() || (form.name.is_empty() && form.phone.is_empty()) {
        return form.known_customer;
    }
    let id = new_id();
    let subject = Subject::new(SubjectKind::Customer, id);
    drafts.push(draft(&subject, Body::Opened(Opened::default())));
    say(&subject, field::NAME, &form.name, drafts);
    say(&subject, field::PHONE, &form.phone, drafts);
    Some(id)
}

fn new_pair(
    form: &DropOff,
    pair: SubjectId,
    customer: Option<SubjectId>,
    secret: String,
    drafts: &mut Vec<Draft>,
) {
    let subject = Subject::new(SubjectKind::Pair, pair);
    drafts.push(draft(
        &subject,
        Body::Opened(Opened {
            customer,
            ..Opened::default()
        }),
    ));
    drafts.push(draft(&subject, Body::CardLink(CardLink { secret })));
    say(&subject, field::LOOK, &form.look, drafts);
    say(&subject, field::COLOUR, &form.colour, drafts);
    say(&subject, field::MAKER, &form.maker, drafts);
}

/// A first entry, replacing nothing.
fn draft(subject: &Subject, body: Body) -> Draft {
    Draft::new(subject.clone(), body)
}

/// Sets a field nobody has set before, unless there is nothing to say.
fn say(subject: &Subject, field: &str, text: &str, drafts: &mut Vec<Draft>) {
    let text = text.trim();
    if !text.is_empty() {
        drafts.push(draft(
            subject,
            Body::Detail(Detail {
                field: field.to_owned(),
                value: text.into(),
            }),
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uuid::Uuid;

    fn ids() -> impl FnMut() -> SubjectId {
        let mut n = 0;
        move || {
            n += 1;
            SubjectId(Uuid::from_u128(n))
        }
    }

    #[test]
    fn a_new_pair_gets_a_card_link_once_and_a_known_one_none() {
        let form = DropOff {
            operation: "half_sole".into(),
            look: "derby".into(),
            ..DropOff::default()
        };
        let links = |drafts: &[Draft]| {
            drafts
                .iter()
                .filter(|one| matches!(one.body, Body::CardLink(_)))
                .count()
        };
        let (taken, drafts) = take_in(&form, ids(), "s".into());
        assert_eq!((links(&drafts), taken.customer), (1, None));

        let known = DropOff {
            known_pair: Some(taken.pair),
            ..form
        };
        let (again, drafts) = take_in(&known, ids(), "t".into());
        assert_eq!((links(&drafts), again.pair), (0, taken.pair));
    }

    #[test]
    fn nothing_said_writes_nothing() {
        let form = DropOff {
            operation: "stretch".into(),
            phone: "  ".into(),
            ..DropOff::default()
        };
        let (_, drafts) = take_in(&form, ids(), "s".into());
        let said = drafts
            .iter()
            .filter(|one| matches!(&one.body, Body::Detail(detail) if detail.field != field::TAG));
        assert_eq!(said.count(), 0);
    }
}
