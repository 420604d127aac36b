//! The coming days with their workload, and the suggested day.

use std::collections::BTreeMap;

use leptos::html::Ul;
use leptos::prelude::*;
use leptos::web_sys::HtmlElement;
use shared::analytics::TheDays;
use shared::log::body::OperationCode;
use shared::log::{SubjectId, UnixMs};
use shared::price::minor::Minor;
use shared::trade::amount::{USUAL_AMOUNT, amount_percent};
use shared::trade::formulas::day::Day;
use shared::trade::{Material, in_order};
use shared::week::{Certainty, DayChoice, DayChoices, Job};
use uuid::Uuid;
use wasm_bindgen::JsCast;

use super::counter::CounterForm;
use crate::analytics::ask_with_statistics;
use crate::parts::{Toggle, day_words, near_day_words, promised};
use crate::session::use_live_query;
use app_core::browser::clock::here;
use app_core::commands::PairIn;
use app_core::stations::{goods, in_shop, planned};

/// A button for each day. Nothing while they are being calculated or if they cannot be; any day can be typed.
#[component]
pub(super) fn Days(counter: CounterForm) -> impl IntoView {
    let shop = counter.shop;
    // Asked again only when the work changes, not with every letter typed.
    let new = Memo::new(move |_| {
        counter.form.with(|form| {
            let worked = form.pairs.iter().filter(|pair| !pair.lines.is_empty());
            worked.map(|pair| brought(pair, form.rush)).collect::<Vec<_>>()
        })
    });
    let told = use_live_query(move |phone| {
        // With the shelf, as the forecast of the same screen asks: what was learnt is not reckoned anew for each of them.
        let (known, new) = (shop.known_with_shelf(phone.clone()), new.get());
        async move {
            let known = known.await?;
            let rows: Vec<_> = in_shop(phone.in_shop().await?).collect();
            let asked = TheDays {
                shop: known,
                here: here(),
                jobs: planned(&rows),
                new,
            };
            let told: Result<DayChoices, _> = ask_with_statistics(&phone, &asked).await;
            Ok(told.map_err(|error| error.to_string()))
        }
    });
    let row = NodeRef::<Ul>::new();
    let trouble = move || {
        let why = told.get()?.err()?;
        Some(view! { <p class="quiet" role="status">{words::drop_off::load_unknown(&why)}</p> })
    };
    let shown = move || {
        let told = told.get()?.ok().filter(|told| !told.days.is_empty())?;
        let (suggested, from) = (told.suggested, told.from.clone());
        let days = told
            .days
            .iter()
            .map(|day| one(counter, day, suggested))
            .collect_view();
        bring_into_sight(row);
        Some(view! {
            <div class="suggested" role="status">{suggestion(counter, suggested, from)}</div>
            <ul node_ref=row class="plain days">{days}</ul>
        })
    };
    let doubt = move || {
        let told = told.get()?.ok()?;
        let day = counter.form.with(|form| Day::parse(&form.day))?;
        // The suggested day is as certain as the shop wishes, and so is every later one.
        let day = Some(day).filter(|day| told.suggested.is_none_or(|best| *day < best));
        doubt(told.days.iter().find(|one| Some(one.day) == day)?)
    };
    view! { <div class="day-chooser" role="group" aria-label=words::drop_off::days_with_their_load()>{shown}{trouble}<p class="bad" role="status">{doubt}</p></div> }
}

/// A pair on the form, as a job for the plan.
fn brought(pair: &PairIn, rush: bool) -> Job {
    // Work that is done differently on each shoe has two lines.
    let mut codes: Vec<&str> = Vec::new();
    for line in &pair.lines {
        if !codes.contains(&line.operation.as_str()) {
            codes.push(&line.operation);
        }
    }
    Job {
        id: SubjectId(Uuid::nil()),
        tag: String::new(),
        goods: goods(&pair.goods),
        guessed: pair.construction.clone(),
        left: in_order(&codes).into_iter().map(|at| codes[at].into()).collect(),
        begun: false,
        dry: None,
        dries: None,
        dried: 0,
        amounts: amounts(pair),
        cements: BTreeMap::new(),
        materials: made_of(pair),
        day: None,
        ready_from: None,
        rush,
        waits: false,
        complaint: false,
        first: false,
        put_aside: None,
        run_begun: None,
        run_interrupted: None,
        // After all that is in the shop.
        opened_at: UnixMs::MAX,
        held: false,
    }
}

/// The operations of a pair that are more or less than the usual work on one, in percent of it.
fn amounts(pair: &PairIn) -> BTreeMap<OperationCode, u32> {
    let mut amounts = BTreeMap::new();
    for line in pair.lines.iter().map(|line| line.agreed(Minor::ZERO)) {
        *amounts.entry(line.operation.clone()).or_insert(0) += amount_percent(&line);
    }
    amounts.retain(|_, percent| *percent != USUAL_AMOUNT);
    amounts
}

/// What a pair is made of.
fn made_of(pair: &PairIn) -> Vec<Material> {
    let codes = pair.made_of.materials.iter();
    codes.map(|code| Material::from(code.as_str())).collect()
}

/// Below this probability of being done in time, the warning says that the day is not possible.
const NEVER: f64 = 0.02;

/// The warning about a day; `None` if there is none. Without new work it can only be full.
fn doubt(told: &DayChoice) -> Option<String> {
    let Some((certainty, kept)) = told.certainty().zip(told.kept) else {
        return told.full.then(|| words::drop_off::this_day_is_full().to_owned());
    };
    match certainty {
        Certainty::Safe | Certainty::Likely => None,
        _ if told.needs_others() => Some(match told.late_instead.as_slice() {
            [] => words::drop_off::done_only_if_others_wait().to_owned(),
            names => words::drop_off::done_only_if_late_instead(&names.join(", ")),
        }),
        _ if kept < NEVER => Some(words::drop_off::not_done_by_end_of_this_day().to_owned()),
        Certainty::Tight | Certainty::Late => {
            Some(words::drop_off::done_by_end_of_this_day((kept * 10.0).floor()))
        }
    }
}

/// Scrolls the row to the suggested day once it is drawn.
fn bring_into_sight(row: NodeRef<Ul>) {
    request_animation_frame(move || {
        let Some(row) = row.try_get_untracked().flatten() else {
            return;
        };
        let best = row.query_selector(".best").ok().flatten();
        if let Some(best) = best.and_then(|best| best.dyn_into::<HtmlElement>().ok()) {
            row.set_scroll_left(best.offset_left() - row.offset_left());
        }
    });
}

/// The suggested day and time, with a button that promises them.
fn suggestion(counter: CounterForm, day: Option<Day>, from: Option<String>) -> Option<impl IntoView + use<>> {
    let words = words::drop_off::suggested(&promised(&near_day_words(day?), from.as_deref()));
    let (day, from) = (day?.to_string(), from.unwrap_or_default());
    let this = (day.clone(), from.clone());
    let on = counter.said(move |form| (&form.day, &form.ready_from) == (&this.0, &this.1));
    let press = Callback::new(move |()| counter.say_day(day.clone(), from.clone()));
    Some(view! { <Toggle label=words on press/> })
}

/// A day: how full it is, and how certain it is that the work on the form is done by its end.
fn one(counter: CounterForm, told: &DayChoice, suggested: Option<Day>) -> impl IntoView + use<> {
    let (day, load, full) = (told.day, told.load, told.full);
    let said = match told.certainty() {
        _ if full => words::drop_off::day_full().to_owned(),
        Some(certainty) => certainty.words().to_owned(),
        None => words::drop_off::load_of_day(load * 100.0),
    };
    let short = words::time::weekday_and_date(words::time::weekday_in_short(day.weekday()), day.date().2);
    // The accessible name begins with the visible text.
    let label = words::drop_off::day_with_its_load(&short, &said, &day_words(&day.to_string()));
    let label = match chance(told) {
        Some(chance) => words::drop_off::day_and_its_chance(&label, &chance),
        None => label,
    };
    let (on, press) = counter.promise(day.to_string());
    let height = (load * 22.0).round();
    view! {
        <li class:best=Some(day) == suggested class:full=full>
            <button type="button" class="chip day" aria-label=label aria-pressed=move || on.get().to_string() on:click=move |_| press.run(())>
                <svg class="load" viewBox="0 0 6 22" aria-hidden="true"><rect width="6" height="22"/><rect class="part" y=22.0 - height width="6" height=height/></svg>
                <span>{short}" "</span>
                <small>{said}</small>
            </button>
        </li>
    }
}

/// The probability that the work on the form is done by the end of a day, in words; `None` without such work.
fn chance(told: &DayChoice) -> Option<String> {
    let percent = |share: f64| (share * 100.0).floor();
    if told.needs_others() {
        return Some(words::drop_off::chance_if_others_wait(percent(told.pressed?)));
    }
    Some(words::drop_off::chance_of_day(percent(told.kept?)))
}
