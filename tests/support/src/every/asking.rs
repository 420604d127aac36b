//! The entries of asking the customer.

use shared::log::body::{Answer, Choice, Outcome, Question};
use shared::log::{Body, EntryId, Subject};
use shared::price::minor::Minor;

use super::Stay;

/// The entries of asking the customer.
pub(super) fn ask(stay: &Stay, write: &mut dyn FnMut(&Subject, Body, Vec<EntryId>) -> EntryId) {
    let new_block = Choice {
        say: "A new heel block".to_owned(),
        operation: Some("heel_block".into()),
        price_minor: Minor(1800),
        life_months: Some(36),
    };
    let leave = Choice {
        say: "Leave it".to_owned(),
        operation: None,
        price_minor: Minor::ZERO,
        life_months: None,
    };
    let question = Question {
        text: "The heel is board inside.".to_owned(),
        choices: vec![new_block, leave],
        photo: Some(stay.full.sha256.clone()),
        damage: None,
    };
    let question = write(&stay.job, Body::Question(question), Vec::new());
    let answer = |outcome, choice, call_at: &str| {
        Body::Answer(Answer {
            question,
            outcome,
            choice,
            call_at: call_at.to_owned(),
        })
    };
    write(
        &stay.job,
        answer(Outcome::CallBack, None, "after six"),
        Vec::new(),
    );
    write(&stay.job, answer(Outcome::Yes, Some(0), ""), Vec::new());
}
