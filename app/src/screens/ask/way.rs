//! A way to make a damage good, as it is written: what, for how much, and how long it lasts.

use leptos::prelude::*;
use shared::log::body::Choice;
use shared::price::currency::Currency;
use shared::price::materials::{stock, usual_cost};

use crate::parts::Field;
use crate::shop::ShopContext;
use app_core::commands::ways::{Hour, choice, typed, usual_minutes, usual_months, worked_out};

/// The most ways a customer is given to choose from.
pub(super) const MOST: usize = 3;

/// The way that is no work.
pub(super) const LEAVE: &str = "Leave it as it is";

/// What each way is asked, in the order of [`Way`]'s fields; no screen asks the same thing twice.
const LABELS: [[&str; 5]; MOST] = [
    [
        "First choice",
        "Price of the first",
        "Minutes of the first",
        "Material of the first",
        "Months the first lasts",
    ],
    [
        "Second choice",
        "Price of the second",
        "Minutes of the second",
        "Material of the second",
        "Months the second lasts",
    ],
    [
        "Third choice",
        "Price of the third",
        "Minutes of the third",
        "Material of the third",
        "Months the third lasts",
    ],
];

/// A way as it is written.
#[derive(Clone)]
pub(super) struct ChoiceForm {
    say: RwSignal<String>,
    price: RwSignal<String>,
    minutes: RwSignal<String>,
    material: RwSignal<String>,
    lasts: RwSignal<String>,
    operation: String,
    currency: Currency,
}

impl ChoiceForm {
    /// A way with what is usual of its operation.
    pub(super) fn of(choice: &Choice, shop: ShopContext) -> Self {
        let (code, currency) = (&choice.operation, shop.money_kind());
        #[expect(
            clippy::cast_possible_truncation,
            reason = "checked by the list; `as` saturates"
        )]
        let material = usual_cost(&stock(&shop.state(), code)).round() as i64;
        Self {
            say: RwSignal::new(choice.say.clone()),
            price: RwSignal::new(typed(currency, choice.price_minor)),
            minutes: RwSignal::new(usual_minutes(code)),
            material: RwSignal::new(typed(currency, material)),
            lasts: RwSignal::new(usual_months(code)),
            operation: code.clone(),
            currency,
        }
    }

    /// As it would be asked now; `None` for one that says nothing.
    ///
    /// # Errors
    /// What cannot be so, in words.
    pub(super) fn read(&self) -> Result<Option<Choice>, &'static str> {
        choice(
            self.currency,
            &self.say.get(),
            &self.operation,
            &self.price.get(),
            &self.lasts.get(),
        )
    }

    /// What is wrong with it, in words; `None` where nothing is.
    fn trouble(&self, hour: Option<Hour>) -> Option<&'static str> {
        let worked = hour.filter(|_| !self.say.get().trim().is_empty());
        let worked = worked.and_then(|hour| {
            worked_out(hour, self.currency, &self.minutes.get(), &self.material.get()).err()
        });
        worked.or_else(|| self.read().err())
    }

    /// The price follows minutes and material, and stands where it is typed until one of them changes.
    fn follow(&self, hour: Hour) {
        let (minutes, material, price, currency) = (self.minutes, self.material, self.price, self.currency);
        Effect::new(move |_| {
            let (minutes, material) = (minutes.get(), material.get());
            let nothing = minutes.trim().is_empty() && material.trim().is_empty();
            if let (false, Ok(minor)) = (nothing, worked_out(hour, currency, &minutes, &material)) {
                price.set(typed(currency, minor));
            }
        });
    }
}

/// The fields of the way with this number, counted from 0. With an hourly target the price is worked out.
pub(super) fn fields(n: usize, way: &ChoiceForm, hour: Option<Hour>) -> AnyView {
    let [say, price, minutes, material, lasts] = LABELS[n.min(MOST - 1)];
    if let Some(hour) = hour {
        way.follow(hour);
    }
    let worked = hour.map(|_| {
        view! {
            <Field label=minutes value=way.minutes inputmode="decimal"/>
            <Field label=material value=way.material inputmode="decimal"/>
        }
    });
    let written = way.clone();
    // What is left as it is takes no time, and lasts as long as it lasts.
    let reckoned = (way.say.get_untracked() != LEAVE).then(|| {
        view! {
            <details class="way">
                <summary>"How it is reckoned"</summary>
                <div class="row reckoned">
                    {worked}
                    <Field label=lasts value=way.lasts inputmode="numeric"/>
                </div>
            </details>
        }
    });
    view! {
        <div class="row way">
            <Field label=say value=way.say/>
            <Field label=price value=way.price inputmode="decimal"/>
        </div>
        {reckoned}
        <p class="bad" role="status">{move || written.trouble(hour)}</p>
    }
    .into_any()
}
