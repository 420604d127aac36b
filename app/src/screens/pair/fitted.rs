//! The parts that the shop has fitted to the pair: those that are on, and those that came off with how long they
//! lasted.

use leptos::prelude::*;
use shared::log::{MadeAt, PersonId};
use shared::trade::formulas::day::Day;

use crate::card::in_words;
use crate::parts::{kept_fold, on_day, today};
use crate::shop::ShopContext;
use app_core::pair_history::{FittedPart, day_of, span};

/// The section; nothing if the shop has fitted none.
pub(super) fn fitted(all: &[FittedPart], shop: ShopContext) -> AnyView {
    if all.is_empty() {
        return ().into_any();
    }
    let (on, off): (Vec<_>, Vec<_>) = all.iter().partition(|part| part.until.is_none());
    let came_off = (!off.is_empty()).then(|| {
        let count = off.len();
        view! { <details><summary>{words::pair::no_longer_on(count)}</summary>{list(&off, shop)}</details> }
    });
    let name = words::pair::parts_fitted();
    let all = view! { {list(&on, shop)} {came_off} };
    let summary = view! { <summary>{name}</summary> };
    let fold = kept_fold(name.to_owned(), "unfolds", summary.into_any(), all.into_any());
    view! { <section aria-label=name>{fold}</section> }.into_any()
}

/// A list of parts. The terms are shown once if all parts have the same; nothing for an empty list.
pub(super) fn list(parts: &[&FittedPart], shop: ShopContext) -> AnyView {
    let Some((first, others)) = parts.split_first() else {
        return ().into_any();
    };
    let alike = !others.is_empty() && others.iter().all(|part| part.terms == first.terms);
    let lines = parts.iter().map(|part| one(part, !alike, shop));
    let terms = alike.then(|| terms(first, true));
    view! { <ul class="plain fitted">{lines.collect_view()}</ul> {terms} }.into_any()
}

/// A part: how long it has been or was on, who fitted it with what, and its terms.
fn one(part: &FittedPart, with_terms: bool, shop: ShopContext) -> AnyView {
    let title = [part.part.words(), part.side.after()].concat();
    let terms = with_terms.then(|| terms(part, false));
    view! {
        <li>
            <p><strong>{title}</strong>" "{lasted(part)}</p>
            <p class="quiet">{how(part, shop)}</p>
            {terms}
        </li>
    }
    .into_any()
}

/// The terms that the customer was given, for this part or for each of several; nothing if there were none.
fn terms(part: &FittedPart, of_each: bool) -> AnyView {
    let terms = match (part.terms.as_str(), of_each) {
        ("", _) => None,
        (terms, true) => Some(words::pair::terms_of_each(terms)),
        (terms, false) => Some(words::pair::terms(terms)),
    };
    terms
        .map(|terms| view! { <p class="quiet">{terms}</p> })
        .into_any()
}

/// Since when it has been on, or how long it was on.
fn lasted(part: &FittedPart) -> String {
    let began = day_of(part.at);
    let between = |end: Option<Day>| began.zip(end).map(|(from, to)| span(from, to));
    match part.until {
        None => {
            let day = the_day(part.at);
            match between(Day::parse(&today())) {
                Some(so_far) => words::pair::on_since_and_for(&day, &so_far),
                None => words::pair::on_since(&day),
            }
        }
        Some(until) => {
            let lasted = between(day_of(until)).unwrap_or_default();
            words::pair::lasted_until(&lasted, &the_day(until))
        }
    }
}

/// The work, the person and the material, in words.
fn how(part: &FittedPart, shop: ShopContext) -> String {
    let with = if part.with.is_empty() {
        String::new()
    } else {
        words::pair::with_materials(&part.with.join(", "))
    };
    let note = if part.note.is_empty() {
        String::new()
    } else {
        words::pair::and_note(&part.note)
    };
    [part.work.as_str(), &by(part.person, shop), &with, &note].concat()
}

/// Who did it, as a suffix to other text; empty if nobody was noted.
pub(super) fn by(person: Option<PersonId>, shop: ShopContext) -> String {
    let name = person.and_then(|person| shop.name_of(person));
    name.map_or_else(String::new, |name| words::pair::by_person(&name))
}

/// The day of an entry, in words.
pub(in crate::screens) fn the_day(at: MadeAt) -> String {
    day_of(at).map_or_else(|| on_day(at.utc), |day| in_words(&day.to_string()))
}
