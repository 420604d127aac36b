//! Working hours, from which the plan and the promised days are made.

use leptos::prelude::*;
use serde_json::{Value, json};
use shared::log::body::field;
use shared::trade::formulas::day::Day;
use shared::week::{Hours, SHARES};

use super::form::ShopForm;
use crate::parts::{Toggle, Typed};
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::browser::clock::here;

/// Days in a week.
const WEEK: usize = 7;

/// The values in the form.
#[derive(Debug, Clone)]
struct HoursForm {
    days: [String; WEEK],
    closed: String,
    counter: String,
    hands: String,
    zone: String,
    kept: u32,
}

impl HoursForm {
    fn of(hours: &Hours) -> Self {
        let closed = hours.closed.iter().map(|[first, last]| {
            if first == last {
                first.to_string()
            } else {
                words::shop::hours::days_from_to(&first.to_string(), &last.to_string())
            }
        });
        Self {
            days: std::array::from_fn(|day| hours.typed(day)),
            closed: closed.collect::<Vec<_>>().join(", "),
            counter: hours.counter.to_string(),
            hands: hours.hands.to_string(),
            // If none is set, this device's time zone.
            zone: if hours.zone.is_empty() {
                here().zone
            } else {
                hours.zone.clone()
            },
            kept: hours.kept,
        }
    }

    /// The fields that the form sets; the error says in words what cannot be read.
    fn fields(&self) -> Result<Vec<(String, Value)>, String> {
        let mut fields = Vec::new();
        for (at, typed) in self.days.iter().enumerate() {
            let spans = Hours::read(typed)
                .ok_or_else(|| words::shop::hours::not_hours(words::time::weekday(at), typed))?;
            fields.push((field::hours(at + 1), spans));
        }
        let whole = |typed: &str, what: &str, least: u32, most: u32| {
            let read = typed
                .trim()
                .parse::<u32>()
                .ok()
                .filter(|read| (least..=most).contains(read));
            read.ok_or_else(|| words::shop::hours::not_a_whole_number(what, least, most))
        };
        fields.push((field::CLOSED.to_owned(), closed(&self.closed)?));
        let counter = whole(&self.counter, words::shop::hours::time_for_the_counter(), 0, 80)?;
        fields.push((field::COUNTER_SHARE.to_owned(), Value::from(counter)));
        let hands = whole(&self.hands, words::shop::hours::at_the_bench(), 1, 8)?;
        fields.push((field::HANDS.to_owned(), Value::from(hands)));
        fields.push((field::TIME_ZONE.to_owned(), Value::from(self.zone.trim())));
        fields.push((field::KEPT_SHARE.to_owned(), Value::from(self.kept)));
        Ok(fields)
    }
}

/// Parses days and ranges of days, separated by commas.
fn closed(typed: &str) -> Result<Value, String> {
    let all = typed.split(',').map(str::trim).filter(|one| !one.is_empty());
    let read = all.map(|one| {
        let (first, last) = one
            .split_once(words::shop::hours::between_days())
            .unwrap_or((one, one));
        let span = (Day::parse(first.trim()), Day::parse(last.trim()));
        match span {
            (Some(first), Some(last)) if first <= last => Ok(json!([first, last])),
            _ => Err(words::shop::hours::not_a_day(one)),
        }
    });
    Ok(Value::Array(read.collect::<Result<_, _>>()?))
}

/// Opening hours, closed days, the counter's share, the people at the bench, and how certain a promised day must be.
#[component]
pub fn OpeningHours() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let form = ShopForm::of(move || HoursForm::of(&Hours::of(&shop.state())));
    let save = move |_| match form.values.get_untracked().fields() {
        Ok(fields) => shop.set(session, fields, move || {
            form.follow();
            session.tell(words::shop::saved());
        }),
        Err(why) => session.complain(why),
    };
    let one =
        move |label: String, inputmode: Option<&'static str>, place: fn(&mut HoursForm) -> &mut String| {
            let value = Signal::derive(move || place(&mut form.values.get()).clone());
            let typed = Callback::new(move |text| form.edit(|form| *place(form) = text));
            view! { <Typed label inputmode=inputmode.unwrap_or("text") value typed/> }
        };
    let days = (0..WEEK).map(|day| {
        let value = Signal::derive(move || form.values.with(|form| form.days[day].clone()));
        let typed = Callback::new(move |text| form.edit(|form| form.days[day] = text));
        view! { <Typed label=words::time::weekday(day).to_owned() value typed/> }
    });
    let shares = SHARES.map(|share| {
        let on = Signal::derive(move || form.values.with(|form| form.kept == share));
        let press = Callback::new(move |()| form.edit(|form| form.kept = share));
        view! { <Toggle label=words::shop::hours::share_of_hundred(share) on press/> }
    });
    view! {
        <section class="card" aria-label=words::shop::hours::hours()>
            <h2>{words::shop::hours::hours()}</h2>
            <p class="quiet">{words::shop::hours::when_work_is_done()}</p>
            <div class="row hours">{days.collect_view()}</div>
            <div class="row">
                {one(words::shop::hours::closed_on().to_owned(), None, |form| &mut form.closed)}
                {one(words::shop::hours::counter_share().to_owned(), Some("numeric"), |form| &mut form.counter)}
                {one(words::shop::hours::at_the_bench().to_owned(), Some("numeric"), |form| &mut form.hands)}
                {one(words::shop::hours::time_zone().to_owned(), None, |form| &mut form.zone)}
            </div>
            <div class="row">
                <div class="chips" role="group" aria-labelledby="kept">
                    <span id="kept">{words::shop::hours::suggested_day_is_kept_in()}</span> {shares}
                </div>
                <button on:click=save>{words::shop::hours::save_hours()}</button>
            </div>
        </section>
    }
}
