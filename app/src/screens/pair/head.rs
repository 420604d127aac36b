//! The pair's description and owner, and erasing the customer.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::body::field;
use shared::log::fold::{PairHistory, Summary};
use shared::log::{Subject, SubjectKind};

use crate::parts::{Face, Field};
use crate::server_functions;
use crate::session::{Session, use_session};
use crate::shop::use_shop;
use app_core::commands;

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
        view! { <a class="button bench" href=format!("/drop-off?pair={}", life.id)>{words::pair::bring_in_again()}</a> }
    });
    let others = (!customer.is_empty()).then(|| {
        let words: String = js_sys::encode_uri_component(&customer).into();
        view! { <a class="button quiet" href=format!("/records?words={words}")>{words::pair::everything_of_this_customer()}</a> }
    });
    view! {
        <header class="pair-head">
            <Face of=face on=on alt=words::pair::pair_as_brought()/>
            <div>
                <h1>{title}</h1>
                <p class="quiet">{customer}" "{phone}</p>
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
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let changed = asked.iter().filter_map(|(_, name, subject, value)| {
            let details = match subject.kind {
                SubjectKind::Pair => &life.pair.details,
                _ => &life.customers.get(&subject.id)?.details,
            };
            commands::set(subject.clone(), details, name, &value.get_untracked())
        });
        let drafts: Vec<_> = changed.collect();
        if !drafts.is_empty() {
            session.save_and(drafts, move |_| session.tell(words::pair::corrected()));
        }
    };
    view! {
        <details class="card">
            <summary>{words::pair::correct_details()}</summary>
            <form class="stack" on:submit=save>
                {fields}
                <button type="submit">{words::pair::save()}</button>
            </form>
        </details>
    }
}

/// Erasing the customer: it shows first what is erased, and afterwards which devices have not received the erasure.
#[component]
pub fn Forget(
    /// All subjects that are records of this customer.
    subjects: Vec<Subject>,
) -> impl IntoView {
    let session = use_session();
    let shop = use_shop();
    let known = !subjects.is_empty();
    let subjects = StoredValue::new(subjects);
    let erase = move |_| {
        let Some(phone) = session.phone() else { return };
        let person = session.person().get_untracked();
        spawn_local(async move {
            match phone.erase(subjects.get_value(), person).await {
                Ok(_) => {
                    session.changed();
                    session.sync().now();
                    session.tell(unheard(session).await);
                }
                Err(error) => session.complain(error),
            }
        });
    };
    view! {
        <Show when=move || known && !shop.helper()>
            <details class="card">
                <summary>{words::pair::forget_customer()}</summary>
                <p>{words::pair::what_is_erased()}</p>
                <button class="quiet bad" on:click=erase>{words::pair::erase_for_good()}</button>
            </details>
        </Show>
    }
}

/// The devices that have not received the erasure, in words: every other one that may still sync, until it does.
async fn unheard(session: Session) -> String {
    let Some(phone) = session.phone() else {
        return words::pair::erased().to_owned();
    };
    let Ok(membership) = phone.membership().await else {
        return words::pair::erased().to_owned();
    };
    if !membership.joined() {
        return words::pair::erased_on_the_only_device().to_owned();
    }
    server_functions::ask_at(
        membership.url.as_deref().unwrap_or_default(),
        membership.token.clone(),
    );
    let Ok(devices) = server_functions::devices().await else {
        return words::pair::erased_here_others_hear_later().to_owned();
    };
    let others = devices
        .iter()
        .filter(|device| device.revoked.is_none() && membership.letters.as_ref() != Some(&device.letters));
    let others: Vec<&str> = others.map(|device| device.name.as_str()).collect();
    if others.is_empty() {
        words::pair::erased_here().to_owned()
    } else {
        words::pair::erased_here_not_yet_on(&others.join(", "))
    }
}
