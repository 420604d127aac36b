//! The inputs of a calculation: buttons for choices, number fields with steps. A number that has to be measured and was
//! not is grey; what is nearly always usual is behind "More".

use leptos::prelude::*;

use super::{CalcForm, lengths_of};
use crate::parts::{Toggle, Typed};
use app_core::calc::{ChoiceField, FieldShown, NumberField, Of};

/// The choices, then the numbers.
#[component]
pub(super) fn Form(desk: CalcForm) -> impl IntoView {
    let choices = desk.helper.choices.iter().enumerate();
    let choices = choices
        .map(|(at, choice)| one_choice(desk, at, choice))
        .collect_view();
    let numbers = |behind: bool| {
        let all = desk.helper.numbers.iter().enumerate();
        let all = all.filter(move |(_, asked)| (asked.shown == FieldShown::Behind) == behind);
        all.map(|(at, asked)| one_number(desk, at, asked))
            .collect::<Vec<_>>()
    };
    let behind = numbers(true);
    let more = (!behind.is_empty()).then(|| {
        view! {
            <details>
                <summary>{words::calc_screens::more_inputs()}</summary>
                <div class="numbers">{behind}</div>
            </details>
        }
    });
    view! {
        <section class="card stack" aria-label=words::calc_screens::inputs()>
            {choices}
            <div class="numbers">{numbers(false)}</div>
            {more}
        </section>
    }
}

fn one_choice(desk: CalcForm, at: usize, choice: &'static ChoiceField) -> AnyView {
    let chips = choice.options.iter().enumerate().map(|(option, word)| {
        let on = Signal::derive(move || desk.chosen.with(|chosen| chosen.get(at) == Some(&option)));
        let press = Callback::new(move |()| {
            desk.chosen.update(|chosen| {
                if let Some(place) = chosen.get_mut(at) {
                    *place = option;
                }
            });
        });
        view! { <Toggle label=choice.option_label(desk.helper.what, word) on press/> }
    });
    let label = choice.label(desk.helper.what);
    view! { <div class="chips" role="group" aria-label=label><span>{words::calc_screens::choice(label)}</span>{chips.collect_view()}</div> }
        .into_any()
}

fn one_number(desk: CalcForm, at: usize, asked: &'static NumberField) -> AnyView {
    let name = asked.label(desk.helper.what);
    let label = Signal::derive(move || match asked.of {
        Of::Length => words::calc_screens::number_in_unit(name, desk.shop.lengths().word()),
        Of::Plain => name.to_owned(),
    });
    let value = Signal::derive(move || {
        desk.texts
            .with(|texts| texts.get(at).cloned().unwrap_or_default())
    });
    let write = move |text: String| {
        desk.texts.update(|texts| {
            if let Some(place) = texts.get_mut(at) {
                *place = text;
            }
        });
        desk.touched.update(|touched| {
            if let Some(place) = touched.get_mut(at) {
                *place = true;
            }
        });
    };
    let assumed = move || {
        let touched = desk.touched.with(|touched| touched.get(at) == Some(&true));
        !asked.holds && !touched
    };
    let left_out = move || desk.chosen.with(|chosen| !desk.helper.asks(asked, chosen));
    let change = move |by: f64| {
        let lengths = lengths_of(desk.shop);
        let now = lengths
            .read_as(asked.of, &value.get_untracked())
            .unwrap_or(asked.usual);
        write(lengths.field(asked.of, (now + by * asked.step).max(0.0)));
    };
    view! {
        <div class="number" class:quiet=assumed hidden=left_out>
            <Typed label value typed=Callback::new(write) inputmode="decimal"/>
            <button type="button" class="quiet" data-again="" aria-label=words::calc_screens::less(name) on:click=move |_| change(-1.0)>"−"</button>
            <button type="button" class="quiet" data-again="" aria-label=words::calc_screens::more(name) on:click=move |_| change(1.0)>"+"</button>
        </div>
    }
    .into_any()
}
