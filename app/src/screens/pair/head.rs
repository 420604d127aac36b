//! The pair's description and owner, and correcting them.

use leptos::prelude::*;
use shared::log::body::field;
use shared::log::fold::summary::customer_of;
use shared::log::fold::{PairHistory, Summary};
use shared::log::{Subject, SubjectKind};

use crate::parts::{Field, Materials, has_soles};
use crate::session::use_session;
use app_core::commands::{self, MadeOf};

/// Name, owner, and what the pair is made of.
pub(super) fn name(life: &PairHistory, summary: &Summary) -> AnyView {
    let owner = [summary.customer.as_str(), &summary.phone].join(" ");
    let made_of = MadeOf::of(&life.pair).words();
    view! {
        <div class="pair-name">
            <h1>{summary.name().to_owned()}</h1>
            <p class="quiet">{owner}</p>
            <p class="quiet">{made_of}</p>
        </div>
    }
    .into_any()
}

/// The form for the plain fields of the pair and its customer.
#[component]
pub fn Correct(life: PairHistory) -> impl IntoView {
    let session = use_session();
    let pair = Subject::new(SubjectKind::Pair, life.id);
    let mut asked: Vec<(&'static str, &'static str, Subject, RwSignal<String>)> = Vec::new();
    for (label, name) in [
        (words::pair::what_it_is(), field::LOOK),
        (words::pair::colour(), field::COLOUR),
        (words::pair::maker(), field::MAKER),
    ] {
        asked.push((
            label,
            name,
            pair.clone(),
            RwSignal::new(life.pair.details.text(name).unwrap_or_default().to_owned()),
        ));
    }
    let named = customer_of(&life).and_then(|id| Some((id, life.customers.get(&id)?)));
    if let Some((id, state)) = named {
        let customer = Subject::new(SubjectKind::Customer, id);
        let asked_always = [
            (words::pair::customer_name(), field::NAME),
            (words::pair::telephone(), field::PHONE),
        ];
        // What a file brought in; without it, nobody is asked for it.
        let brought_in = [
            (words::pair::further_numbers(), field::PHONE_SECOND),
            (words::pair::email(), field::EMAIL),
            (words::pair::postal_address(), field::ADDRESS),
            (words::pair::remark_on_customer(), field::NOTE),
        ];
        let brought_in = brought_in
            .into_iter()
            .filter(|(_, name)| state.details.text(name).is_some());
        for (label, name) in asked_always.into_iter().chain(brought_in) {
            asked.push((
                label,
                name,
                customer.clone(),
                RwSignal::new(state.details.text(name).unwrap_or_default().to_owned()),
            ));
        }
    }
    let fields = asked
        .iter()
        .map(|(label, _, _, value)| view! { <Field label value=*value/> })
        .collect_view();
    let made_of = RwSignal::new(MadeOf::of(&life.pair));
    let footwear = Signal::stored(has_soles(&life.pair));
    let choose = Callback::new(move |now| made_of.set(now));
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let changed = asked.iter().filter_map(|(_, name, subject, value)| {
            let details = match subject.kind {
                SubjectKind::Pair => &life.pair.details,
                _ => &life.customers.get(&subject.id)?.details,
            };
            commands::set(subject.clone(), details, name, &value.get_untracked())
        });
        let materials = made_of.get_untracked().corrected(&pair, &life.pair);
        let drafts: Vec<_> = changed.chain(materials).collect();
        if !drafts.is_empty() {
            session.save_and(drafts, move |_| session.tell(words::pair::corrected()));
        }
    };
    view! {
        <details>
            <summary>{words::pair::correct_details()}</summary>
            <form class="stack" on:submit=save>
                {fields}
                <Materials made_of=made_of.into() choose footwear/>
                <button type="submit">{words::pair::save()}</button>
            </form>
        </details>
    }
}
