//! Composing, publishing and withdrawing the care card.

mod told;

use shared::log::body::{
    Agreed, CardPhoto, Damage, Decision, GiftWhy, Pays, Photo, Published, Section, Seen, Shows, Side,
    Withdrawn,
};
use shared::log::fold::{Item, JobState, PairHistory, ShopState, TicketState, bench, summary};
use shared::log::{Body, Subject, SubjectId, SubjectKind, UnixMs};
use shared::price::bill;
use shared::price::minor::Minor;
use shared::trade::final_check::hours_until_wear;
use shared::trade::formulas::day::Day;
use shared::trade::{
    Advice, Component, Condition, Facts, Material, advice, line_plain, operations, worked_parts,
};

use super::done::{done, step_times};
use super::handover::AtPickup;
use super::matches::matches;
use super::shop::money;
use super::work::on_job;
use shared::log::Draft;

/// The section that a job would publish today, composed from its records. The screen shows it before it is published.
///
/// `day` is today as `YYYY-MM-DD`, `now` the time from which hours of waiting are counted.
pub fn compose(
    history: &PairHistory,
    job: SubjectId,
    shop: &ShopState,
    day: &str,
    now: UnixMs,
    chosen: &AtPickup,
) -> Section {
    let Some(state) = history.jobs.get(&job) else {
        return Section::default();
    };
    let inside = state.damage.iter().filter(|item| item.body.seen == Seen::Inside);
    let wanted = |one: &&Advice| !chosen.advice_left_out.iter().any(|out| out == one.key());
    let in_months = || Some(Day::parse(day)?.months_later(chosen.next_check?)?.to_string());
    let (next, next_words) = match &chosen.check_as_worn {
        Some((day, words)) => (Some(day.clone()), words.clone()),
        None => (in_months(), String::new()),
    };
    let worked = worked_parts(done(state));
    let codes = |parts: Vec<&Component>| parts.into_iter().map(|part| part.as_str().to_owned()).collect();
    Section {
        title: summary::title(&history.pair),
        day: day.to_owned(),
        done: told::work(state, chosen),
        found: inside.map(|item| decided(&item.body)).collect(),
        gifts: given_words(state, shop, chosen),
        advice: advised(history, state)
            .into_iter()
            .filter(wanted)
            .map(sentence)
            .collect(),
        notes: told::remarks(history, state, chosen),
        wait_hours: Some(wait(state, now)).filter(|hours| *hours > 0),
        next_check: next,
        next_check_words: next_words,
        terms: shop.terms().unwrap_or_default().to_owned(),
        price: chosen
            .price_on_card
            .then(|| money(shop, price_with_tax(history, state))),
        shop: contact(shop),
        shop_name: shop.name().unwrap_or_default().to_owned(),
        goods: history.pair.goods_code().unwrap_or_default().to_owned(),
        new_parts: codes(worked.new),
        mended_parts: codes(worked.mended),
        photos: photos(state, &chosen.photos_left_out),
        language: Some(words::current())
            .filter(|language| *language != words::Language::default())
            .map(|language| language.tag().to_owned()),
    }
}

/// Work done at no charge, in addition to the agreed work.
pub fn given(job: &JobState) -> impl Iterator<Item = &Agreed> {
    bench::kept(job)
        .map(|line| &line.body)
        .filter(|line| line.gift.is_some())
}

fn given_words(job: &JobState, shop: &ShopState, chosen: &AtPickup) -> Vec<String> {
    let say = |line: &Agreed| {
        let mut text = line_plain(line);
        let gift = line.gift.as_ref()?;
        text.push(' ');
        text.push_str(match gift.why {
            GiftWhy::Needed => words::commands::gift_was_needed(),
            _ => words::commands::gift_is_our_choice(),
        });
        if chosen.price_on_card {
            text.push(' ');
            text.push_str(&words::commands::gift_is_worth(&money(shop, gift.worth_minor)));
        }
        Some(text)
    };
    given(job).filter_map(say).collect()
}

/// Damage of a part and the decision about it, in words for a customer who has never seen the part.
fn decided(damage: &Damage) -> String {
    let part = Component::from(damage.part.as_str());
    let condition = Condition::from(damage.condition.as_str()).words().to_lowercase();
    let mut text = match damage.side {
        Side::Left => words::commands::left_part_found(part.plain(), &condition),
        Side::Right => words::commands::right_part_found(part.plain(), &condition),
        _ => words::commands::part_found(part.plain(), &condition),
    };
    let at_no_charge = matches!(damage.pays, Some(Pays::ShopNeeded | Pays::ShopChoice));
    let decision = match &damage.decision {
        Some(Decision::Mend) if at_no_charge => words::commands::part_mended_at_no_charge(),
        Some(Decision::Mend) => words::commands::part_mended(),
        Some(Decision::Replace) if at_no_charge => words::commands::part_replaced_at_no_charge(),
        Some(Decision::Replace) => words::commands::part_replaced(),
        Some(Decision::Keep) => words::commands::part_good_enough_to_stay(),
        Some(Decision::Leave) => words::commands::part_left_as_it_is(),
        _ => return text,
    };
    text.push(' ');
    text.push_str(decision);
    text
}

/// The advice for a job and its pair, without the hours to wait, which the card states separately.
pub fn advised(history: &PairHistory, job: &JobState) -> Vec<&'static Advice> {
    let pair = &history.pair;
    let goods = pair.goods();
    let construction = job.construction_known();
    let materials: Vec<Material> = pair.materials().collect();
    let damages: Vec<(Component, Condition)> = job
        .damage
        .iter()
        .map(|Item { body, .. }| (body.part.as_str().into(), body.condition.as_str().into()))
        .collect();
    let facts = Facts {
        goods: goods.as_ref(),
        construction: construction.as_ref(),
        materials: &materials,
        damages: &damages,
        operations: &done(job),
    };
    let all = advice::advice(&facts).filter(|one| !one.is_first_wait());
    all.collect()
}

/// A piece of advice as one text: what to do, then why.
pub fn sentence(advice: &Advice) -> String {
    [advice.say(), advice.because()].join(" ")
}

/// Hours until the pair may be worn: counted from the steps if they were noted, otherwise the longest wait that its
/// work needs.
fn wait(job: &JobState, now: UnixMs) -> u32 {
    if !job.steps.is_empty() {
        return hours_until_wear(step_times(job), now.0);
    }
    let known = done(job).into_iter().filter_map(operations::operation);
    known.map(|one| one.wear_after_h).max().unwrap_or(0)
}

/// The price of the job alone, including tax.
fn price_with_tax(history: &PairHistory, job: &JobState) -> Minor {
    let rate = history.ticket_of(job).and_then(TicketState::tax);
    bill::due(std::iter::once(bill::price(job)), rate).minor
}

fn contact(shop: &ShopState) -> String {
    let lines = [shop.name(), shop.phone()].into_iter().flatten();
    lines.collect::<Vec<_>>().join(", ")
}

/// The photographs that the customer may see: the pair as brought first, the finished pair last.
fn photos(job: &JobState, left_out: &[String]) -> Vec<CardPhoto> {
    let place = |photo: &Photo| match photo.shows {
        Shows::DropOff => 0,
        Shows::Finished => 2,
        _ => 1,
    };
    let chosen = || {
        let all = job.photos.iter().map(|item| &item.body);
        all.filter(|photo| !left_out.contains(&photo.full.sha256))
    };
    let ordered = (0..=2).flat_map(|wanted| chosen().filter(move |photo| place(photo) == wanted));
    let of_match = |photo: &Photo| matches(job).any(|item| photo.of == Some(item.entry));
    ordered
        .map(|photo| CardPhoto {
            blob: photo.full.clone(),
            caption: caption(photo, of_match(photo)),
            shows: Some(photo.shows.clone()),
        })
        .collect()
}

/// What a photograph shows, as the customer reads it; `of_match` where it shows what is not quite a match.
fn caption(photo: &Photo, of_match: bool) -> String {
    let words = match (&photo.shows, photo.operation.as_deref()) {
        _ if of_match => words::commands::photo_of_match(),
        (Shows::DropOff, _) => words::commands::photo_before(),
        (Shows::Finished, _) => words::commands::photo_after(),
        (Shows::Damage, _) => words::commands::photo_of_damage(),
        (_, Some(code)) => operations::name(code),
        _ => words::commands::photo_of_work(),
    };
    words.to_owned()
}

/// Publishes a section; it replaces the job's earlier ones and names the withdrawals that this device knows.
pub fn publish(history: &PairHistory, job: SubjectId, section: Section) -> Draft {
    let state = history.jobs.get(&job);
    let seen = history
        .pair
        .withdrawn
        .iter()
        .chain(state.iter().flat_map(|job| &job.withdrawn))
        .copied()
        .collect();
    let over = state
        .map(|job| job.published.iter().map(|item| item.entry).collect())
        .unwrap_or_default();
    let body = Body::Published(Published {
        pair: history.id,
        section: Box::new(section),
        seen,
    });
    on_job(job, body).over(over)
}

/// Withdraws the pair's whole card, on every link that leads to it.
pub fn withdraw(pair: SubjectId) -> Draft {
    Draft::new(
        Subject::new(SubjectKind::Pair, pair),
        Body::Withdrawn(Withdrawn {}),
    )
}

#[cfg(test)]
mod tests;
