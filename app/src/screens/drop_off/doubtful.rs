//! What speaks against a promise: its day is past, nobody works on that day, or the time is outside the hours.

use leptos::prelude::*;
use shared::trade::formulas::day::Day;
use shared::week::Hours;

use super::counter::CounterForm;
use crate::parts::{day_words, is_past, near_day_words};

/// What speaks against a promise.
struct Doubt {
    /// What is told beside the day.
    told: String,
    /// What is told when the pairs are to be taken in all the same; `None` if that is not asked twice.
    asked_again: Option<String>,
    /// The next day on which somebody works, if nobody does on the promised one.
    instead: Option<Day>,
}

/// What speaks against promising a day `YYYY-MM-DD`, ready from `from` (`HH:MM`, or empty for the end of the day).
/// Whether the shop has set its hours itself decides whether it is asked twice: the usual hours are only a guess.
fn doubt(day: &str, from: &str, hours: &Hours) -> Option<Doubt> {
    if is_past(day) {
        return Some(Doubt {
            told: words::drop_off::this_day_is_past().to_owned(),
            asked_again: Some(words::drop_off::day_is_past_tap_again(&day_words(day))),
            instead: None,
        });
    }
    let date = Day::parse(day)?;
    if hours.on(date).is_empty() {
        let again = || words::drop_off::day_is_closed_tap_again(&near_day_words(date));
        return Some(Doubt {
            told: words::drop_off::nobody_works_on_this_day().to_owned(),
            asked_again: hours.is_closed_by_the_shop(date).then(again),
            instead: hours.next_open(date),
        });
    }
    if hours.is_open_at(date, from) {
        return None;
    }
    let own = hours.own.get(date.weekday()).is_some_and(|own| *own);
    let again = || words::drop_off::time_is_outside_the_hours_tap_again(from);
    Some(Doubt {
        told: words::drop_off::time_is_outside_the_hours(from, &hours.typed(date.weekday())),
        asked_again: own.then(again),
        instead: None,
    })
}

/// Tells at once what speaks against the promise on the form, and offers the next day on which somebody works.
#[component]
pub(super) fn Doubtful(counter: CounterForm) -> impl IntoView {
    let promise = Memo::new(move |_| {
        counter
            .form
            .with(|form| (form.day.clone(), form.ready_from.clone()))
    });
    let told = move || {
        let (day, from) = promise.get();
        let doubt = doubt(&day, &from, &Hours::of(&counter.shop.state()))?;
        let instead = doubt.instead.map(|day| {
            let words = words::drop_off::promise_instead(&near_day_words(day));
            let press = move |_| counter.say_day(day.to_string(), String::new());
            view! { <button type="button" class="quiet" on:click=press>{words}</button> }
        });
        Some(view! { <p class="bad">{doubt.told}</p> {instead} })
    };
    view! { <div role="status">{told}</div> }
}

/// What has to be asked before the pairs are taken in with the promise on the form; `None` if nothing speaks against
/// it, or it was asked already. Asking again with the same promise is an answer.
pub(super) fn ask_again(counter: CounterForm) -> Option<String> {
    let (day, from) = counter
        .form
        .with_untracked(|form| (form.day.clone(), form.ready_from.clone()));
    let asked = doubt(&day, &from, &Hours::of(&counter.shop.state()))?.asked_again?;
    let promise = (day, from);
    if counter.asked.with_untracked(|asked| *asked == promise) {
        return None;
    }
    counter.asked.set(promise);
    Some(asked)
}
