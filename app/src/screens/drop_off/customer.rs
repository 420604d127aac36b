//! The customer who brings the pairs: a known one, found while typing, or a new one.

use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_query_map;
use shared::log::SubjectId;
use shared::log::fold::{Summary, summary};

use super::counter::CounterForm;
use crate::device::DeviceError;
use crate::device::Phone;
use crate::parts::{Face, Typed};
use crate::session::{Opening, Session, use_live_query, use_session};
use app_core::commands::{KnownPair, PairIn};
use app_core::store::CustomerAlone;

/// How many matching pairs are shown at most.
const OFFERED: usize = 5;

/// From how many characters on a search is made.
const ENOUGH: usize = 2;

/// What is copied into the form from a pair that was found.
#[derive(Clone, Copy)]
enum Take {
    /// The customer and the pair.
    Pair,
    /// The customer only, who brings something else.
    Customer,
}

/// The search over all known customers and pairs, and the two fields of a new customer.
#[component]
pub(super) fn Customer(counter: CounterForm) -> impl IntoView {
    begin_with_the_pair(counter);
    let known = Memo::new(move |_| counter.form.with(|form| form.known_customer.is_some()));
    let else_ = move |_| {
        counter.change(|form| {
            form.known_customer = None;
            form.name.clear();
            form.phone.clear();
        });
    };
    let who = counter.said(|form| format!("{}  {}", form.name, form.phone));
    let typed = Callback::new(move |text: String| {
        counter.search.set(text.clone());
        counter.sought.set(text);
    });
    view! {
        <section class="card stack" aria-label=words::drop_off::customer()>
            <Typed label=words::drop_off::search_known_customers().to_owned() kind="search"
                value=counter.search.into() typed/>
            <Show when=move || known.get() fallback=move || view! { <Unknown counter/> }>
                <p class="row between"><strong>{move || who.get()}</strong>
                    <button type="button" class="quiet" on:click=else_>{words::drop_off::somebody_else()}</button></p>
            </Show>
            // Below the search box, so that nothing moves while typing.
            <Offers counter/>
            <CustomerOffers counter/>
        </section>
    }
}

/// The name and telephone number of a new customer; both are searched for too.
#[component]
fn Unknown(counter: CounterForm) -> impl IntoView {
    let name = Callback::new(move |text: String| {
        counter.sought.set(text.clone());
        counter.change(|form| form.name = text);
    });
    let phone = Callback::new(move |text: String| {
        counter.sought.set(text.clone());
        counter.change(|form| form.phone = text);
    });
    view! {
        <div class="pair-fields">
            <Typed label=words::drop_off::customers_name().to_owned() value=counter.said(|form| form.name.clone()) typed=name/>
            <Typed label=words::drop_off::telephone().to_owned() kind="tel" value=counter.said(|form| form.phone.clone()) typed=phone/>
        </div>
    }
}

/// The pairs that match what was typed.
#[component]
fn Offers(counter: CounterForm) -> impl IntoView {
    let found = use_live_query(move |phone| {
        let words = counter.sought.get();
        async move {
            if words.trim().chars().count() < ENOUGH {
                return Ok(Vec::new());
            }
            Ok(phone.search(&words, OFFERED).await?)
        }
    });
    let rows = move || {
        let found = found.get().unwrap_or_default();
        found.into_iter().map(|pair| offer(counter, pair)).collect_view()
    };
    view! { <ul class="plain offers" aria-label=words::drop_off::known_pairs() aria-live="polite">{rows}</ul> }
}

/// The customers who match what was typed and whom no pair names, such as those whom a file brought in.
#[component]
fn CustomerOffers(counter: CounterForm) -> impl IntoView {
    let found = use_live_query(move |phone| {
        let words = counter.sought.get();
        async move {
            if words.trim().chars().count() < ENOUGH {
                return Ok(Vec::new());
            }
            Ok(phone.search_customers(&words, OFFERED).await?)
        }
    });
    let rows = move || {
        let found = found.get().unwrap_or_default();
        found
            .into_iter()
            .map(|one| customer_offer(counter, &one))
            .collect_view()
    };
    view! { <ul class="plain offers" aria-label=words::drop_off::known_customers() aria-live="polite">{rows}</ul> }
}

fn customer_offer(counter: CounterForm, one: &CustomerAlone) -> AnyView {
    let text = |text: Option<&str>| text.unwrap_or_default().to_owned();
    let (name, phone) = (text(one.state.name()), text(one.state.phone()));
    let (id, shown, number) = (one.id, name.clone(), phone.clone());
    let take = move |_| {
        counter.change(|form| {
            form.known_customer = Some(id);
            form.name.clone_from(&name);
            form.phone.clone_from(&phone);
        });
        counter.looked();
    };
    view! {
        <li>
            <button type="button" class="quiet offer" on:click=take>
                <span class="who"><strong>{shown}</strong>" "<span class="quiet">{number}</span></span>
            </button>
        </li>
    }
    .into_any()
}

/// If the address names a pair, puts it into the form once the store is open.
fn begin_with_the_pair(counter: CounterForm) {
    let session = use_session();
    let asked = use_query_map().get_untracked().get("pair");
    let Some(pair) = asked.and_then(|id| id.parse::<SubjectId>().ok()) else {
        return;
    };
    Effect::new(move |begun: Option<bool>| {
        if begun == Some(true) || session.opening().get() != Opening::Open {
            return begun == Some(true);
        }
        take_over(session, counter, pair, Take::Pair);
        true
    });
}

/// Reads a pair and its customer, and fills the form in.
fn take_over(session: Session, counter: CounterForm, pair: SubjectId, what: Take) {
    spawn_local(async move {
        let Some(phone) = session.phone() else { return };
        match known(&phone, pair).await {
            Ok(Some(known)) => fill(counter, known, what),
            Ok(None) => {}
            Err(error) => session.complain(error),
        }
    });
}

fn offer(counter: CounterForm, pair: Summary) -> AnyView {
    let session = use_session();
    let id = pair.id;
    let take = move |what: Take| {
        take_over(session, counter, id, what);
        counter.looked();
    };
    let job = pair.jobs.first();
    let on = job.map(|job| job.id);
    let tag = job.map(|job| job.tag.clone()).unwrap_or_default();
    let somebody = (!pair.customer.is_empty()).then(|| {
        let label = words::drop_off::another_pair_of(&pair.customer);
        view! { <button type="button" class="quiet" on:click=move |_| take(Take::Customer)>{label}</button> }
    });
    view! {
        <li>
            <button type="button" class="quiet offer" on:click=move |_| take(Take::Pair)>
                <Face of=pair.face.clone() on alt="" goods=pair.goods.clone()/>
                <span class="who"><strong>{pair.name().to_owned()}</strong>" "<span>{pair.customer}</span>" "
                    <span class="quiet">{tag}</span></span>
            </button>
            {somebody}
        </li>
    }
    .into_any()
}

/// A known customer (id, name, telephone number) with one of their pairs.
struct ReturningCustomer {
    customer: Option<(SubjectId, String, String)>,
    pair: KnownPair,
}

/// Reads a pair and its customer; `None` if the pair is not on this device.
async fn known(phone: &Phone, pair: SubjectId) -> Result<Option<ReturningCustomer>, DeviceError> {
    let life = phone.pair_history(pair).await?;
    if life.jobs.is_empty() {
        return Ok(None);
    }
    let customer = summary::customer_of(&life).and_then(|id| {
        let state = life.customers.get(&id)?;
        Some((
            id,
            state.name().unwrap_or_default().to_owned(),
            state.phone().unwrap_or_default().to_owned(),
        ))
    });
    let pair = KnownPair::of(&life);
    Ok(Some(ReturningCustomer { customer, pair }))
}

/// Fills in the customer, and puts the pair in the unfolded place if that is empty, else in a new one.
fn fill(counter: CounterForm, known: ReturningCustomer, what: Take) {
    let mut open = counter.open.get_untracked();
    counter.change(|form| {
        if let Some((id, name, phone)) = known.customer {
            form.known_customer = Some(id);
            form.name = name;
            form.phone = phone;
        }
        let twice = form
            .pairs
            .iter()
            .any(|one| one.known.as_ref().is_some_and(|one| one.id == known.pair.id));
        if matches!(what, Take::Customer) || twice {
            return;
        }
        let pair = PairIn::again(known.pair);
        match form.pairs.get_mut(open) {
            Some(place) if *place == PairIn::default() => *place = pair,
            _ => {
                form.pairs.push(pair);
                open = form.pairs.len() - 1;
            }
        }
    });
    counter.open.set(open);
}
