//! The lists of a job's page, line by line, in words.

use shared::log::body::{Agreed, Damage, Decision, GiftWhy, Outcome, Pays, Seen};
use shared::log::fold::{AgreedLine, Item, JobState, bench};
use shared::price::currency::Currency;
use shared::trade::component::Component;
use shared::trade::condition::Condition;
use shared::trade::line_name;

/// A line of text in a list, with a less prominent second text.
pub(in crate::screens) struct Said {
    pub(in crate::screens) text: String,
    /// When it was, and by whom.
    pub(in crate::screens) quiet: String,
}

/// Agreed work with its price in the shop's currency; without prices for persons who may not see them (`None`).
pub(in crate::screens) fn agreed(job: &JobState, priced: Option<Currency>) -> Vec<String> {
    let say = |line: &Agreed, skipped: bool| {
        let price = match (&line.gift, priced) {
            (Some(gift), Some(money)) => {
                let worth = money.format(gift.worth_minor);
                Some(if gift.why == GiftWhy::Needed {
                    words::pair::no_charge_as_needed(&worth)
                } else {
                    words::pair::no_charge_by_choice(&worth)
                })
            }
            (Some(_), None) => Some(words::pair::no_charge().to_owned()),
            (None, Some(money)) if line.price_minor.is_positive() => Some(money.format(line.price_minor)),
            (None, _) => None,
        };
        let skipped = skipped.then(|| words::pair::skipped().to_owned());
        let said = [Some(line_name(line)), price, skipped].into_iter().flatten();
        said.collect::<Vec<String>>().join(" ")
    };
    let of_line = |line: &AgreedLine| {
        let skipped = bench::is_skipped(job, line);
        let versions = line.versions.iter().map(|item| say(&item.body, skipped));
        versions.collect::<Vec<_>>()
    };
    job.agreed.iter().flat_map(of_line).collect()
}

/// What was found on the pair, and what was decided about it.
pub(in crate::screens) fn damage(one: &Damage) -> String {
    let (part, condition) = (
        Component::from(one.part.as_str()),
        Condition::from(one.condition.as_str()),
    );
    let decided = match &one.decision {
        Some(Decision::Keep) => words::pair::damage_kept(),
        Some(Decision::Mend) => words::pair::damage_mended(),
        Some(Decision::Replace) => words::pair::damage_replaced(),
        Some(Decision::Leave) => words::pair::damage_left(),
        Some(Decision::Other(word)) => word,
        None if one.seen == Seen::Counter => words::pair::damage_accepted(),
        None => "",
    };
    let pays = match &one.pays {
        Some(Pays::Customer) => words::pair::customer_pays(),
        Some(Pays::ShopNeeded) => words::pair::shop_pays_as_needed(),
        Some(Pays::ShopChoice) => words::pair::shop_pays_by_choice(),
        _ => "",
    };
    let note = if one.note.is_empty() {
        String::new()
    } else {
        words::pair::and_note(&one.note)
    };
    let what = words::pair::part_and_condition(part.words(), condition.words());
    [what.as_str(), one.side.after(), decided, pays, &note].concat()
}

/// A step: the operation, which shoe, and whether it had to be made again.
pub(in crate::screens) fn step(job: &JobState, item: &Item<shared::log::body::Step>) -> String {
    let step = &item.body;
    let redo = job.redone.iter().find(|redo| redo.body.step == item.entry);
    let work = bench::name_of_step(job, step);
    let done = match redo {
        Some(redo) if redo.body.scrap.is_empty() => words::pair::done_and_made_again(&work),
        Some(redo) => words::pair::done_and_made_again_with_scrap(&work, &redo.body.scrap),
        None => words::pair::done(&work),
    };
    if step.note.is_empty() {
        done
    } else {
        words::pair::done_with_note(&done, &step.note)
    }
}

/// The outcome of a question.
pub(in crate::screens) fn came_of(outcome: &Outcome) -> &str {
    match outcome {
        Outcome::Yes => words::pair::answer_yes(),
        Outcome::No => words::pair::answer_no(),
        Outcome::NoAnswer => words::pair::nobody_reached(),
        Outcome::CallBack => words::pair::to_be_called_again(),
        Outcome::ReturnUnrepaired => words::pair::goes_back_as_it_is(),
        Outcome::Other(word) => word,
    }
}

/// A question and its outcome.
pub(in crate::screens) fn question(job: &JobState, item: &Item<shared::log::body::Question>) -> String {
    let answer = bench::answer_to(job, item.entry);
    let came = answer.map_or(words::pair::no_answer_yet(), |answer| {
        came_of(&answer.body.outcome)
    });
    let chosen = answer
        .and_then(|answer| item.body.choices.get(answer.body.choice?))
        .map_or("", |choice| choice.say.as_str());
    if chosen.is_empty() {
        words::pair::asked(&item.body.text, came)
    } else {
        words::pair::asked_to_choose(&item.body.text, came, chosen)
    }
}
