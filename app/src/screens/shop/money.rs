//! Currency, tax, and what an hour should earn.

use leptos::prelude::*;
use serde_json::Value;
use shared::log::body::field;
use shared::price::currency::Currency;
use shared::price::tax::{format_rate, parse_rate};

use crate::parts::{Toggle, Typed};
use crate::session::use_session;
use crate::shop::use_shop;

/// How a total is shown and taxed.
#[component]
pub fn Money() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    // A draft of each, filled once with what the shop has said.
    let currency = RwSignal::new(String::new());
    let rate = RwSignal::new(String::new());
    let on_top = RwSignal::new(false);
    let target = RwSignal::new(String::new());
    Effect::new(move |_| {
        currency.set(shop.currency());
        let tax = shop.tax();
        rate.set(tax.map(format_rate).unwrap_or_default());
        on_top.set(tax.is_some_and(|rate| rate < 0));
        target.set(
            shop.state()
                .hourly_target_minor()
                .map(|minor| shop.typed(minor))
                .unwrap_or_default(),
        );
    });
    let save = move |_| {
        let typed = rate.get();
        let tax = match parse_rate(&typed) {
            Some(tax) => tax,
            None if typed.trim().is_empty() => 0,
            None => {
                return session
                    .ask_to_correct(format!("“{typed}” is not a rate of tax. For example 19 or 8.1."));
            }
        };
        let named = currency.get().trim().to_uppercase();
        if !named.is_empty() && Currency::of(&named).is_none() {
            return session.ask_to_correct(format!(
                "“{named}” is not a currency of ISO 4217. For example EUR."
            ));
        }
        let hour = target.get();
        let kind = Currency::of(&named).unwrap_or_default();
        let hour = match kind.parse(&hour) {
            Some(minor) => Value::from(minor),
            None if hour.trim().is_empty() => Value::Null,
            None => {
                return session
                    .ask_to_correct(format!("“{hour}” is not an amount. For example 45 or 45.50."));
            }
        };
        let signed = if on_top.get() { -tax } else { tax };
        let fields = [
            (field::CURRENCY, Value::from(named)),
            (field::TAX, Value::from(signed)),
            (field::HOURLY_TARGET, hour),
        ];
        let fields = fields.map(|(name, value)| (name.to_owned(), value));
        shop.set(session, fields.into(), move || session.tell("Saved."));
    };
    let tops = [(false, "In the prices"), (true, "Added to them")].map(|(top, words)| {
        let on = Signal::derive(move || on_top.get() == top);
        view! { <Toggle label=words on press=Callback::new(move |()| on_top.set(top))/> }
    });
    view! {
        <section class="card" aria-label="Money">
            <h2>"Money"</h2>
            <div class="row">
                <Typed label="Currency, three letters".to_owned() value=currency.into()
                    typed=Callback::new(move |text| currency.set(text))/>
                <Typed label="Tax in per cent; empty for none".to_owned() inputmode="decimal" value=rate.into()
                    typed=Callback::new(move |text| rate.set(text))/>
                <Typed label="An hour should earn, without tax".to_owned() inputmode="decimal" value=target.into()
                    typed=Callback::new(move |text| target.set(text))/>
                <div class="chips" role="group" aria-label="Where the tax is">{tops.collect_view()}</div>
                <button on:click=save>"Save money"</button>
            </div>
        </section>
    }
}
