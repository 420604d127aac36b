//! The form for one choice that a customer is given: what is done, its price, and how long it lasts.

use leptos::prelude::*;
use shared::log::body::Choice;
use shared::log::body::OperationCode;
use shared::price::currency::Currency;
use shared::price::materials::usual_cost;
use shared::price::minor::Minor;
use shared::shelf::{Materials, stock_of};

use crate::parts::Field;
use crate::shop::ShopContext;
use app_core::commands::ways::{Hour, choice, typed, usual_minutes, usual_months, worked_out};

/// The most choices that a customer is given.
pub(super) const MOST: usize = 3;

/// The labels of the fields of the choice with this index, in the order of the fields of [`ChoiceForm`]. They differ,
/// because labels must be unique within a screen.
fn labels(n: usize) -> [&'static str; 5] {
    match n {
        0 => [
            words::ask::first_choice(),
            words::ask::price_of_the_first(),
            words::ask::minutes_of_the_first(),
            words::ask::material_of_the_first(),
            words::ask::months_the_first_lasts(),
        ],
        1 => [
            words::ask::second_choice(),
            words::ask::price_of_the_second(),
            words::ask::minutes_of_the_second(),
            words::ask::material_of_the_second(),
            words::ask::months_the_second_lasts(),
        ],
        _ => [
            words::ask::third_choice(),
            words::ask::price_of_the_third(),
            words::ask::minutes_of_the_third(),
            words::ask::material_of_the_third(),
            words::ask::months_the_third_lasts(),
        ],
    }
}

/// The fields of one choice.
#[derive(Clone)]
pub(super) struct ChoiceForm {
    say: RwSignal<String>,
    price: RwSignal<String>,
    minutes: RwSignal<String>,
    material: RwSignal<String>,
    lasts: RwSignal<String>,
    operation: Option<OperationCode>,
    currency: Currency,
}

impl ChoiceForm {
    /// The fields filled in with the usual values of the choice's operation.
    pub(super) fn of(choice: &Choice, shop: ShopContext, materials: &Materials) -> Self {
        let (code, currency) = (choice.operation.as_deref(), shop.money_kind());
        let material = code.map_or(Minor::ZERO, |code| {
            Minor::rounded(usual_cost(&stock_of(&shop.state(), materials, code)))
        });
        Self {
            say: RwSignal::new(choice.say.clone()),
            price: RwSignal::new(typed(currency, choice.price_minor)),
            minutes: RwSignal::new(code.map(usual_minutes).unwrap_or_default()),
            material: RwSignal::new(typed(currency, material)),
            lasts: RwSignal::new(code.map(usual_months).unwrap_or_default()),
            operation: choice.operation.clone(),
            currency,
        }
    }

    /// The choice that the fields hold now; `None` if its text is empty.
    ///
    /// # Errors
    /// What is wrong in the fields, in words for the person.
    pub(super) fn read(&self) -> Result<Option<Choice>, &'static str> {
        choice(
            self.currency,
            &self.say.get(),
            self.operation.clone(),
            &self.price.get(),
            &self.lasts.get(),
        )
    }

    /// What is wrong in the fields, in words; `None` if nothing is.
    fn trouble(&self, hour: Option<Hour>) -> Option<&'static str> {
        let worked = hour.filter(|_| !self.say.get().trim().is_empty());
        let worked = worked.and_then(|hour| {
            worked_out(hour, self.currency, &self.minutes.get(), &self.material.get()).err()
        });
        worked.or_else(|| self.read().err())
    }

    /// Sets the price from the minutes and the material whenever one of them changes. A price that was typed stays
    /// until then.
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

/// The input fields of the choice with this index, counted from 0. With an hourly target, the price is calculated.
pub(super) fn fields(n: usize, way: &ChoiceForm, hour: Option<Hour>) -> AnyView {
    let [say, price, minutes, material, lasts] = labels(n);
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
    // Leaving it as it is takes no time and has no durability to state.
    let reckoned = (way.say.get_untracked() != words::ask::leave_as_it_is()).then(|| {
        view! {
            <details class="way">
                <summary>{words::ask::how_it_is_worked_out()}</summary>
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
