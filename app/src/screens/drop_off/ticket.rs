//! What is agreed for the whole ticket: day, rush, hidden damage, money.

use leptos::prelude::*;
use shared::price::minor::Minor;
use shared::price::tax::format_rate;

use super::counter::CounterForm;
use super::days::Days;
use crate::device::screen::focus;
use crate::parts::{Toggle, Typed, day_words, in_days, is_past, promised};
use app_core::commands::{DAY, DEPOSIT, DropOff, IfHidden, Paying, UP_TO};

/// Days that can be promised with one tap, in days after today.
const DAYS: [(u32, &str); 4] = [(0, "Today"), (1, "Tomorrow"), (3, "In 3 days"), (7, "In 7 days")];

/// The fields of the whole ticket.
#[component]
pub(super) fn Ticket(counter: CounterForm) -> impl IntoView {
    view! {
        <section class="card stack" aria-label="Ticket">
            <Day counter/>
            <Hurry counter/>
            <Hidden counter/>
            <Show when=move || !counter.shop.helper()><Paid counter/></Show>
        </section>
    }
}

#[component]
fn Day(counter: CounterForm) -> impl IntoView {
    let day = counter.said(|form| form.day.clone());
    let chips = DAYS.map(|(days, words)| {
        let (on, press) = counter.promise(in_days(days));
        view! { <Toggle label=words on press/> }
    });
    let typed = Callback::new(move |day| counter.say_day(day, String::new()));
    let from = counter.said(|form| form.ready_from.clone());
    let typed_from = Callback::new(move |text| counter.change(|form| form.ready_from = text));
    let is_said = Memo::new(move |_| !day.get().is_empty());
    let words = move || {
        Some(day.get())
            .filter(|day| !day.is_empty())
            .map(|day| promised(&day_words(&day), &from.get()))
    };
    let past = move || is_past(&day.get()).then_some("This day is past.");
    view! {
        <div class="row">
            <div class="chips" role="group" aria-label="Day">{chips.collect_view()}</div>
            <Days counter/>
            <Typed label="Day promised".to_owned() id=DAY kind="date" value=day typed wrong=counter.is_wrong(DAY.to_owned())/>
            <Show when=move || is_said.get()>
                <Typed label="Ready from (if said)".to_owned() kind="time" value=from typed=typed_from/>
            </Show>
            <strong>{words}</strong>
            <p class="bad" role="status">{past}</p>
        </div>
    }
}

#[component]
fn Hurry(counter: CounterForm) -> impl IntoView {
    let rush = Callback::new(move |()| counter.change(|form| form.rush = !form.rush));
    let waits = Callback::new(move |()| {
        counter.change(|form| {
            form.while_waiting = !form.while_waiting;
            if form.while_waiting && form.day.is_empty() {
                form.day = in_days(0);
                form.ready_from.clear();
            }
        });
    });
    view! {
        <div class="chips" role="group" aria-label="Hurry">
            <Toggle label="Rush" on=counter.said(|form| form.rush) press=rush/>
            <Toggle label="Customer waits" on=counter.said(|form| form.while_waiting) press=waits/>
        </div>
    }
}

#[component]
fn Hidden(counter: CounterForm) -> impl IntoView {
    let ways = [
        (IfHidden::Nothing, "Nothing extra"),
        (IfHidden::UpTo, "Up to an amount"),
        (IfHidden::Ask, "Ask first"),
    ];
    let chips = ways.map(|(way, words)| {
        let on = counter.said(move |form| form.if_hidden == Some(way));
        let press = Callback::new(move |()| {
            let chosen = (!on.get_untracked()).then_some(way);
            counter.change(|form| form.if_hidden = chosen);
            if chosen == Some(IfHidden::UpTo) {
                focus(UP_TO.to_owned());
            }
        });
        view! { <Toggle label=words on press/> }
    });
    view! {
        <div class="row">
            <div class="chips" role="group" aria-labelledby="if-hidden">
                <span id="if-hidden">"If something hidden turns up:"</span>
                {chips.collect_view()}
            </div>
            {amount(counter, UP_TO, "Up to", |form| form.if_hidden == Some(IfHidden::UpTo), |form| &mut form.up_to)}
        </div>
    }
}

#[component]
fn Paid(counter: CounterForm) -> impl IntoView {
    let ways = [
        (Paying::Later, "Not paid"),
        (Paying::Deposit, "Deposit"),
        (Paying::All, "Paid in full"),
    ];
    let chips = ways.map(|(way, words)| {
        let on = counter.said(move |form| form.paying == way);
        let press = Callback::new(move |()| {
            counter.change(|form| form.paying = way);
            if way == Paying::Deposit {
                focus(DEPOSIT.to_owned());
            }
        });
        view! { <Toggle label=words on press/> }
    });
    view! {
        <div class="row">
            <div class="chips" role="group" aria-label="Payment">{chips.collect_view()}</div>
            {amount(counter, DEPOSIT, "Deposit paid now", |form| form.paying == Paying::Deposit, |form| &mut form.deposit)}
        </div>
    }
}

/// The field for an amount; shown while `asked`.
fn amount(
    counter: CounterForm,
    id: &'static str,
    label: &'static str,
    asked: fn(&DropOff) -> bool,
    place: fn(&mut DropOff) -> &mut String,
) -> impl IntoView {
    let asked = Memo::new(move |_| counter.form.with(asked));
    let value = counter.said(move |form| place(&mut form.clone()).clone());
    let typed = Callback::new(move |text| counter.change(|form| *place(form) = text));
    let field = move || {
        let wrong = counter.is_wrong(id.to_owned());
        view! { <Typed label=label.to_owned() id=id inputmode="decimal" value typed wrong/> }
    };
    view! { <Show when=move || asked.get()>{field()}</Show> }
}

/// The total, always visible.
#[component]
pub(super) fn Total(counter: CounterForm) -> impl IntoView {
    let shop = counter.shop;
    let line = move || {
        let (count, due) = counter
            .form
            .with(|form| (form.pairs.len(), form.due(shop.tax(), shop.money_kind())));
        let pairs = if count == 1 {
            "1 pair".to_owned()
        } else {
            format!("{count} pairs")
        };
        if shop.helper() {
            return (pairs, String::new(), String::new());
        }
        (
            pairs,
            shop.money(due.minor),
            due.tax.map_or_else(String::new, |tax| tax_words(counter, tax)),
        )
    };
    let unread = move || match counter.form.with(|form| form.unread(shop.money_kind())) {
        0 => None,
        1 => Some("without a price that cannot be read".to_owned()),
        many => Some(format!("without {many} prices that cannot be read")),
    };
    view! {
        <p class="total" role="status">
            {move || { let (pairs, total, tax) = line(); view! {
                <span>{pairs}</span>" "<strong data-total="">{total}</strong>" "<span class="quiet">{tax}</span>
            } }}
            <span class="bad">{unread}</span>
        </p>
    }
}

fn tax_words(counter: CounterForm, tax: Minor) -> String {
    let rate = counter.shop.tax().unwrap_or_default();
    let how = if rate > 0 { "tax in it" } else { "tax added" };
    format!("{} % {how}: {}", format_rate(rate), counter.shop.money(tax))
}
