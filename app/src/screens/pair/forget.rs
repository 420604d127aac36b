//! Erasing the customer of a pair, and what is to be erased because a repairer asked for it.

mod mentions;
mod requests;
mod search;

use leptos::html::Details;
use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::{EntryId, Subject};

use crate::device::screen::when_lifted;
use crate::server_functions;
use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};
use mentions::mention_lists;
use requests::Requests;
use search::{ToErase, to_erase};

/// For repairers: what was asked to be erased, and the way to erase the customer.
#[component]
pub fn Forget(
    /// All subjects that are records of this customer.
    customers: Vec<Subject>,
    /// The jobs of the pair, whose photographs may be asked to be destroyed.
    jobs: Vec<Subject>,
) -> impl IntoView {
    let shop = use_shop();
    let known = !customers.is_empty();
    let all = StoredValue::new([customers.clone(), jobs].concat());
    let customers = StoredValue::new(customers);
    view! {
        <Show when=move || !shop.helper()>
            <Requests subjects=all/>
            <Show when=move || known><Erase customers/></Show>
        </Show>
    }
}

/// Where the search for mentions of the customer stands.
enum Search {
    /// It begins when the card is opened.
    NotBegun,
    UnderWay,
    /// The reason has been told.
    Failed,
    Done(ToErase),
}

/// Erasing the customer: it shows first what is erased and where else they are mentioned, and afterwards which devices
/// have not received the erasure.
#[component]
fn Erase(customers: StoredValue<Vec<Subject>>) -> impl IntoView {
    let (session, shop) = (use_session(), use_shop());
    let search = RwSignal::new(Search::NotBegun);
    let ticked = RwSignal::new(Vec::new());
    let card = NodeRef::<Details>::new();
    let look = move || begin(session, shop, customers.get_value(), search, ticked);
    let unfolded = move |_| {
        // The event comes later than the change, when the page may have left the screen.
        let card = card.try_get_untracked().flatten();
        if card.is_some_and(|card| card.open()) {
            look();
        }
    };
    let erase = move |_| {
        let person = session.person().get_untracked();
        let drafts = search.with_untracked(|search| match search {
            Search::Done(found) => Some(ticked.with_untracked(|ticked| found.drafts(ticked, person))),
            _ => None,
        });
        let Some(drafts) = drafts else { return };
        session.save_and(drafts, move |_| {
            // What was found is old now: it is looked for again when the card is opened again.
            search.try_set(Search::NotBegun);
            if let Some(card) = card.try_get_untracked().flatten() {
                card.set_open(false);
            }
            session.sync().now();
            spawn_local(async move { session.tell(unheard(session).await) });
        });
    };
    let found = move || {
        search.with(|search| match search {
            Search::NotBegun => ().into_any(),
            Search::UnderWay => {
                view! { <p role="status">{words::pair::looking_for_mentions()}</p> }.into_any()
            }
            Search::Failed => {
                view! { <button on:click=move |_| look()>{words::parts::try_again()}</button> }.into_any()
            }
            Search::Done(found) => view! {
                {mention_lists(found, ticked)}
                <p>{words::pair::only_words_are_searched()}</p>
                <button class="quiet bad" on:click=erase>{words::pair::erase_for_good()}</button>
            }
            .into_any(),
        })
    };
    view! {
        <details node_ref=card class="card" on:toggle=unfolded>
            <summary>{words::pair::forget_customer()}</summary>
            <p>{words::pair::what_is_erased()}</p>
            <Show when=move || shop.joined()><p>{words::pair::when_it_is_erased()}</p></Show>
            {found}
        </details>
    }
}

/// Begins the search, unless it is under way. At first those mentions are ticked that are surely of the customers.
fn begin(
    session: Session,
    shop: ShopContext,
    customers: Vec<Subject>,
    search: RwSignal<Search>,
    ticked: RwSignal<Vec<EntryId>>,
) {
    let under_way = search.with_untracked(|search| matches!(search, Search::UnderWay));
    let Some(phone) = session.phone().filter(|_| !under_way) else {
        return;
    };
    search.set(Search::UnderWay);
    spawn_local(async move {
        let found = to_erase(&phone, &customers, shop).await;
        // The screen must not change while a finger is about to tap it.
        when_lifted(move || {
            let found = match found {
                Ok(found) => {
                    ticked.try_set(found.sure());
                    Search::Done(found)
                }
                Err(error) => {
                    session.complain(error);
                    Search::Failed
                }
            };
            // The page may have left the screen meanwhile.
            search.try_set(found);
        });
    });
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
        return words::pair::erased_later_others_hear_later().to_owned();
    };
    let others = devices
        .iter()
        .filter(|device| device.revoked.is_none() && membership.letters.as_ref() != Some(&device.letters));
    let others: Vec<&str> = others.map(|device| device.name.as_str()).collect();
    if others.is_empty() {
        words::pair::erased_once_the_server_has_it().to_owned()
    } else {
        words::pair::erased_later_not_yet_on(&others.join(", "))
    }
}
