//! The lists of a job's page, line by line, in words.

use shared::log::body::{Damage, Decision, GiftWhy, Outcome, Pays, Seen};
use shared::log::fold::{Item, JobState, bench};
use shared::price::currency::Currency;
use shared::trade::component::Component;
use shared::trade::condition::Condition;
use shared::trade::operations;

/// A line of text in a list, with a less prominent second text.
pub(in crate::screens) struct Said {
    pub(in crate::screens) text: String,
    /// When it was, and by whom.
    pub(in crate::screens) quiet: String,
}

/// Agreed work with its price in the shop's currency; without prices for persons who may not see them (`None`).
pub(in crate::screens) fn agreed(job: &JobState, priced: Option<Currency>) -> Vec<String> {
    let versions = job.agreed.iter().flat_map(|line| &line.versions);
    let say = |item: &Item<shared::log::body::Agreed>| {
        let line = &item.body;
        let price = match (&line.gift, priced) {
            (Some(gift), Some(money)) => {
                let why = if gift.why == GiftWhy::Needed {
                    "needed"
                } else {
                    "my choice"
                };
                [" no charge, ", why, ", worth ", &money.format(gift.worth_minor)].concat()
            }
            (Some(_), None) => " no charge".to_owned(),
            (None, Some(money)) if line.price_minor.is_positive() => {
                [" ", &money.format(line.price_minor)].concat()
            }
            (None, _) => String::new(),
        };
        let skipped = job
            .skipped
            .iter()
            .any(|skip| skip.body.operation == line.operation);
        let skipped = if skipped { " (skipped)" } else { "" };
        [
            operations::name(&line.operation),
            line.side.after(),
            &price,
            skipped,
        ]
        .concat()
    };
    versions.map(say).collect()
}

/// What was found on the pair, and what was decided about it.
pub(in crate::screens) fn damage(one: &Damage) -> String {
    let (part, condition) = (
        Component::from(one.part.as_str()),
        Condition::from(one.condition.as_str()),
    );
    let decided = match &one.decision {
        Some(Decision::Keep) => ": kept",
        Some(Decision::Mend) => ": mended",
        Some(Decision::Replace) => ": replaced",
        Some(Decision::Leave) => ": left as it is",
        Some(Decision::Other(word)) => word,
        None if one.seen == Seen::Counter => ": there already, accepted as it is",
        None => "",
    };
    let pays = match &one.pays {
        Some(Pays::Customer) => ", customer pays",
        Some(Pays::ShopNeeded) => ", no charge, needed",
        Some(Pays::ShopChoice) => ", no charge, my choice",
        _ => "",
    };
    let note = if one.note.is_empty() { "" } else { ". " };
    [
        part.words(),
        " ",
        condition.words(),
        one.side.after(),
        decided,
        pays,
        note,
        &one.note,
    ]
    .concat()
}

/// A step: the operation, which shoe, and whether it had to be made again.
pub(in crate::screens) fn step(job: &JobState, item: &Item<shared::log::body::Step>) -> String {
    let step = &item.body;
    let redo = job.redone.iter().find(|redo| redo.body.step == item.entry);
    let again = match redo {
        Some(redo) if redo.body.scrap.is_empty() => " (made again)".to_owned(),
        Some(redo) => [" (made again, scrap: ", &redo.body.scrap, ")"].concat(),
        None => String::new(),
    };
    let note = if step.note.is_empty() { "" } else { ": " };
    [
        "Done: ",
        operations::name(&step.operation),
        step.side.after(),
        &again,
        note,
        &step.note,
    ]
    .concat()
}

/// The outcome of a question.
pub(in crate::screens) fn came_of(outcome: &Outcome) -> &str {
    match outcome {
        Outcome::Yes => "yes",
        Outcome::No => "no",
        Outcome::NoAnswer => "nobody was reached",
        Outcome::CallBack => "to be called again",
        Outcome::ReturnUnrepaired => "goes back as it is",
        Outcome::Other(word) => word,
    }
}

/// A question and its outcome.
pub(in crate::screens) fn question(job: &JobState, item: &Item<shared::log::body::Question>) -> String {
    let answer = bench::answer_to(job, item.entry);
    let came = answer.map_or("no answer yet", |answer| came_of(&answer.body.outcome));
    let chosen = answer
        .and_then(|answer| item.body.choices.get(answer.body.choice?))
        .map_or("", |choice| choice.say.as_str());
    let colon = if chosen.is_empty() { "" } else { ": " };
    ["Asked: ", &item.body.text, " (", came, colon, chosen, ")"].concat()
}
