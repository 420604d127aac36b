//! Currency, tax, and the hourly target.

use leptos::prelude::*;
use serde_json::Value;
use shared::log::body::field;
use shared::price::currency::Currency;
use shared::price::tax::{format_rate, parse_rate};

use super::form::ShopForm;
use crate::parts::{Toggle, Typed};
use crate::session::{use_live_query, use_session};
use crate::shop::use_shop;
use app_core::commands;

/// The values in the form, as typed.
#[derive(Debug, Clone)]
struct MoneyForm {
    currency: String,
    rate: String,
    /// Whether the tax is added to the prices.
    on_top: bool,
    target: String,
}

/// The form for currency, tax and hourly target.
#[component]
pub fn Money() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let taken_in = use_live_query(|phone| async move { Ok(phone.has_pairs_or_sales().await?) });
    let form = ShopForm::of(move || {
        let (tax, target) = (shop.tax(), shop.state().hourly_target());
        MoneyForm {
            currency: shop.currency(),
            rate: tax.map(format_rate).unwrap_or_default(),
            on_top: tax.is_some_and(|rate| rate < 0),
            target: target.map(|minor| shop.typed(minor)).unwrap_or_default(),
        }
    });
    let save = move |_| {
        let MoneyForm {
            currency,
            rate: typed,
            on_top,
            target: hour,
        } = form.values.get_untracked();
        let tax = match parse_rate(&typed) {
            Some(tax) => tax,
            None if typed.trim().is_empty() => 0,
            None => {
                return session.ask_to_correct(words::shop::money::not_a_tax_rate(&typed));
            }
        };
        let named = currency.trim().to_uppercase();
        if !named.is_empty() && Currency::of(&named).is_none() {
            return session.ask_to_correct(words::shop::money::not_a_currency(&named));
        }
        let kind = Currency::of(&named).unwrap_or_default();
        let priced = taken_in.get_untracked() == Some(true) || commands::has_own_price(&shop.state());
        if !commands::may_change_currency(shop.money_kind(), kind, priced) {
            return session.ask_to_correct(words::shop::money::currency_is_fixed());
        }
        let hour = match kind.parse(&hour) {
            Some(minor) => Value::from(minor),
            None if hour.trim().is_empty() => Value::Null,
            None => {
                return session.ask_to_correct(words::shop::money::not_an_amount(&hour));
            }
        };
        let signed = if on_top { -tax } else { tax };
        let fields = [
            (field::CURRENCY, Value::from(named)),
            (field::TAX, Value::from(signed)),
            (field::HOURLY_TARGET, hour),
        ];
        let fields = fields.map(|(name, value)| (name.to_owned(), value));
        shop.set(session, fields.into(), move || {
            form.follow();
            session.tell(words::shop::saved());
        });
    };
    let tops = [
        (false, words::shop::money::tax_in_prices()),
        (true, words::shop::money::tax_added_to_prices()),
    ];
    let tops = tops.map(|(top, words)| {
        let on = Signal::derive(move || form.values.with(|form| form.on_top == top));
        view! { <Toggle label=words on press=Callback::new(move |()| form.edit(|form| form.on_top = top))/> }
    });
    let one = move |label: &str, inputmode: &'static str, place: fn(&mut MoneyForm) -> &mut String| {
        let value = Signal::derive(move || place(&mut form.values.get()).clone());
        let typed = Callback::new(move |text| form.edit(|form| *place(form) = text));
        view! { <Typed label=label.to_owned() inputmode value typed/> }
    };
    view! {
        <section class="card" aria-label=words::shop::money::money()>
            <h2>{words::shop::money::money()}</h2>
            <div class="row">
                {one(words::shop::money::currency(), "text", |form| &mut form.currency)}
                {one(words::shop::money::tax_rate(), "decimal", |form| &mut form.rate)}
                {one(words::shop::money::hourly_target(), "decimal", |form| &mut form.target)}
                <div class="chips" role="group" aria-label=words::shop::money::where_tax_is()>{tops.collect_view()}</div>
                <button on:click=save>{words::shop::money::save_money()}</button>
            </div>
        </section>
    }
}
