//! The cement guide at a step: what is glued to what, and how.

use leptos::prelude::*;
use shared::trade::Material;
use shared::trade::cement_guide::{
    CementAnswer, CementVerdict, OwnCements, cement_way, glued_on_choices, glued_to_choices, likely_sides,
    uses_cement,
};

use crate::parts::Toggle;
use crate::shop::use_shop;

/// The guide, folded until wanted; nothing for an operation without cement. Its materials are chosen by those of the
/// pair, as far as they can be told.
#[component]
pub fn CementGuide<'a>(
    /// The operation's word in the log.
    operation: &'a str,
    /// What the pair is made of; empty if not said.
    materials: &'a [Material],
) -> impl IntoView + use<> {
    if !uses_cement(operation) {
        return None;
    }
    let (on, to) = likely_sides(operation, materials);
    let guessed = on.is_some() || to.is_some();
    let (on, to) = (RwSignal::new(on), RwSignal::new(to));
    // The many chips are made only when somebody wants them.
    let opened = RwSignal::new(false);
    Some(view! {
        <details class="helpers" on:toggle=move |_| opened.set(true)>
            <summary>{words::cement::cement_guide()}</summary>
            <Show when=move || opened.get()><Guide on to guessed/></Show>
        </details>
    })
}

/// The choice of the two materials, and the answer for them.
#[component]
fn Guide(
    /// What is glued on.
    on: RwSignal<Option<Material>>,
    /// What it is glued to.
    to: RwSignal<Option<Material>>,
    /// Whether the first choice was made by what the pair is made of.
    guessed: bool,
) -> impl IntoView {
    let shop = use_shop();
    let answer = move || {
        let own = OwnCements::of(&shop.state());
        let (on, to) = (on.get(), to.get());
        shown(&cement_way(on.as_ref(), to.as_ref(), &own))
    };
    view! {
        {guessed.then(|| view! { <p class="quiet">{words::cement::from_the_pair()}</p> })}
        {chips(words::cement::glued_on(), glued_on_choices(), on)}
        {chips(words::cement::glued_to(), glued_to_choices(), to)}
        <div role="status">{answer}</div>
    }
}

/// One material of several; a second tap takes the choice back.
fn chips(label: &'static str, mut choices: Vec<Material>, value: RwSignal<Option<Material>>) -> AnyView {
    // A material of the pair that is not offered is shown, because it is chosen.
    if let Some(chosen) = value.get_untracked()
        && !choices.contains(&chosen)
    {
        choices.insert(0, chosen);
    }
    let chips = choices.into_iter().map(|material| {
        let (name, this) = (material.words().to_owned(), material.clone());
        let on = Signal::derive(move || value.with(|chosen| chosen.as_ref() == Some(&this)));
        let press = Callback::new(move |()| {
            value.update(|chosen| {
                *chosen = match chosen {
                    Some(former) if *former == material => None,
                    _ => Some(material.clone()),
                };
            });
        });
        view! { <Toggle label=name on press/> }
    });
    let chips = chips.collect_view();
    view! { <h3>{label}</h3> <div class="chips" role="group" aria-label=label>{chips}</div> }.into_any()
}

/// An answer: cautions first, then what to know, the steps in order, and the hazards with what the law says.
fn shown(answer: &CementAnswer) -> AnyView {
    let cautions: Vec<&str> = answer.cautions.iter().map(|caution| caution.line()).collect();
    let first = answer.first().into_iter().map(|text| view! { <li>{text}</li> });
    let class = match answer.verdict() {
        CementVerdict::Sure => "plain quiet",
        CementVerdict::AskFirst | CementVerdict::NotAdvised => "plain bad",
    };
    let steps = answer.steps().into_iter().map(|step| {
        view! { <li><strong>{step.name}</strong>" "{step.text}</li> }
    });
    let also = answer.also().map(|text| view! { <p class="quiet">{text}</p> });
    let hazards = answer.hazards.iter();
    let hazards = hazards.map(|one| words::cement::hazard(one.source(), one.does(), one.protection()));
    let hurts = hazards
        .chain(answer.limits())
        .map(|text| view! { <li>{text}</li> });
    view! {
        <p class="caution">{cautions.join(" ")}</p>
        <ul class=class>{first.collect_view()}</ul>
        <ol aria-label=words::cement::steps()>{steps.collect_view()}</ol>
        {also}
        <details>
            <summary>{words::parts::hazards()}</summary>
            <ul class="plain quiet">{hurts.collect_view()}</ul>
        </details>
    }
    .into_any()
}
