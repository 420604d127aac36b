//! What is agreed for the whole ticket: day, rush, hidden damage, money.

use leptos::prelude::*;
use shared::price::minor::Minor;
use shared::price::tax::format_rate;
use shared::text::unless_empty;

use super::counter::CounterForm;
use super::days::Days;
use super::doubtful::Doubtful;
use crate::device::screen::focus;
use crate::parts::{Toggle, Typed, day_words, in_days, promised};
use app_core::commands::{DAY, DEPOSIT, DropOff, IfHidden, Paying, UP_TO};

/// Days that can be promised with one tap, in days after today.
const DAYS: [u32; 4] = [0, 1, 3, 7];

/// The fields of the whole ticket.
#[component]
pub(super) fn Ticket(counter: CounterForm) -> impl IntoView {
    view! {
        <section class="card stack" aria-label=words::drop_off::ticket()>
            <Day counter/>
            <Hurry counter/>
            <Hidden counter/>
            <Paid counter/>
        </section>
    }
}

/// How a day that is so many days after today is called.
fn called(days: u32) -> String {
    match days {
        0 => words::drop_off::today().to_owned(),
        1 => words::drop_off::tomorrow().to_owned(),
        _ => words::drop_off::days_after_today(days),
    }
}

#[component]
fn Day(counter: CounterForm) -> impl IntoView {
    let day = counter.said(|form| form.day.clone());
    let chips = DAYS.map(|days| {
        let (on, press) = counter.promise(in_days(days));
        view! { <Toggle label=called(days) on press/> }
    });
    let typed = Callback::new(move |day| counter.say_day(day, String::new()));
    let from = counter.said(|form| form.ready_from.clone());
    let typed_from = Callback::new(move |text| counter.change(|form| form.ready_from = text));
    let is_said = Memo::new(move |_| !day.get().is_empty());
    let words = move || {
        unless_empty(day.get()).map(|day| promised(&day_words(&day), unless_empty(from.get().as_str())))
    };
    view! {
        <div class="row">
            <div class="chips" role="group" aria-label=words::drop_off::day()>{chips.collect_view()}</div>
            <Days counter/>
            <Typed label=words::drop_off::day_promised().to_owned() id=DAY kind="date" value=day typed wrong=counter.is_wrong(DAY.to_owned())/>
            <Show when=move || is_said.get()>
                <Typed label=words::drop_off::ready_from_if_said().to_owned() kind="time" value=from typed=typed_from/>
            </Show>
            <strong>{words}</strong>
            <Doubtful counter/>
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
        <div class="chips" role="group" aria-label=words::drop_off::hurry()>
            <Toggle label=words::drop_off::rush() on=counter.said(|form| form.rush) press=rush/>
            <Toggle label=words::drop_off::customer_waits() on=counter.said(|form| form.while_waiting) press=waits/>
        </div>
    }
}

#[component]
fn Hidden(counter: CounterForm) -> impl IntoView {
    let ways = [
        (IfHidden::Nothing, words::drop_off::nothing_extra()),
        (IfHidden::UpTo, words::drop_off::up_to_an_amount()),
        (IfHidden::Ask, words::drop_off::ask_first()),
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
                <span id="if-hidden">{words::drop_off::if_something_hidden_turns_up()}</span>
                {chips.collect_view()}
            </div>
            {amount(counter, UP_TO, words::drop_off::up_to(), |form| form.if_hidden == Some(IfHidden::UpTo), |form| &mut form.up_to)}
        </div>
    }
}

#[component]
fn Paid(counter: CounterForm) -> impl IntoView {
    let ways = [
        (Paying::Later, words::drop_off::not_paid()),
        (Paying::Deposit, words::drop_off::deposit()),
        (Paying::All, words::drop_off::paid_in_full()),
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
            <div class="chips" role="group" aria-label=words::drop_off::payment()>{chips.collect_view()}</div>
            {amount(counter, DEPOSIT, words::drop_off::deposit_paid_now(), |form| form.paying == Paying::Deposit, |form| &mut form.deposit)}
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
            .with(|form| (form.brought().len(), form.due(shop.tax(), shop.money_kind())));
        let pairs = match count {
            0 => words::parts::goods().to_owned(),
            count => words::drop_off::pairs(count),
        };
        (
            pairs,
            shop.money(due.minor),
            due.tax.map_or_else(String::new, |tax| tax_words(counter, tax)),
        )
    };
    let unread = move || match counter.form.with(|form| form.unread(shop.money_kind())) {
        0 => None,
        count => Some(words::drop_off::without_unread_prices(count)),
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
    let (percent, amount) = (format_rate(rate), counter.shop.money(tax));
    if rate > 0 {
        words::drop_off::tax_in_it(&percent, &amount)
    } else {
        words::drop_off::tax_added(&percent, &amount)
    }
}
