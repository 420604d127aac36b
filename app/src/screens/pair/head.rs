//! The pair's description and owner.

use leptos::prelude::*;
use shared::log::body::field;
use shared::log::fold::{PairHistory, Summary};
use shared::log::{Subject, SubjectKind};

use crate::parts::{Face, Field, Materials, has_soles};
use crate::session::use_session;
use app_core::commands::{self, MadeOf};

/// Thumbnail, name, owner, links to what can be done next, and a form to correct the description.
#[component]
pub fn Head(life: PairHistory, summary: Summary) -> impl IntoView {
    let (open, on) = (summary.open(), summary.jobs.first().map(|job| job.id));
    let title = summary.name().to_owned();
    let Summary {
        customer,
        phone,
        face,
        ..
    } = summary;
    let call = (!phone.is_empty()).then(|| {
        let address = ["tel:", &phone].concat();
        view! { <a class="button quiet" href=address>{words::pair::call(&phone)}</a> }
    });
    let again = (!open).then(|| {
        view! { <a class="button bench" href=format!("/drop-off?pair={}", life.id)>{words::pair::take_in_again()}</a> }
    });
    let others = (!customer.is_empty()).then(|| {
        let words: String = js_sys::encode_uri_component(&customer).into();
        view! { <a class="button quiet" href=format!("/records?words={words}")>{words::pair::everything_of_this_customer()}</a> }
    });
    let made_of = MadeOf::of(&life.pair).words();
    view! {
        <header class="pair-head">
            <Face of=face on=on alt=words::pair::pair_as_brought()/>
            <div>
                <h1>{title}</h1>
                <p class="quiet">{customer}" "{phone}</p>
                <p class="quiet">{made_of}</p>
            </div>
        </header>
        <div class="row pair-ways">{again}{call}{others}</div>
        <Correct life/>
    }
}

/// The form for the plain fields of the pair and its customer.
#[component]
fn Correct(life: PairHistory) -> impl IntoView {
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
    if let Some((id, state)) = life.customers.last_key_value() {
        let customer = Subject::new(SubjectKind::Customer, *id);
        for (label, name) in [
            (words::pair::customer_name(), field::NAME),
            (words::pair::telephone(), field::PHONE),
        ] {
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
        <details class="card">
            <summary>{words::pair::correct_details()}</summary>
            <form class="stack" on:submit=save>
                {fields}
                <Materials made_of=made_of.into() choose footwear/>
                <button type="submit">{words::pair::save()}</button>
            </form>
        </details>
    }
}
