//! Records of the same thing: joining is offered if they are alike, and can be undone.

use leptos::prelude::*;
use shared::log::fold::{PairHistory, Summary};
use shared::log::{EntryId, Subject, SubjectId, SubjectKind};

use crate::device::DeviceError;
use crate::device::Phone;
use crate::session::{use_live_query, use_session};
use app_core::commands::records::{join, joins, part, same_phone, same_words};

/// How many pairs are compared at most.
const LOOKED_AT: usize = 20;

/// Another record that may be of the same pair or customer.
#[derive(Debug, Clone, PartialEq)]
struct Likely {
    kind: SubjectKind,
    other: SubjectId,
    /// What the person is asked.
    say: String,
}

/// Offers to join records that seem to be of the same thing, and to separate joined ones.
#[component]
pub fn Same(life: PairHistory, summary: Summary) -> impl IntoView {
    let session = use_session();
    let ids = StoredValue::new((life.id, life.customers.keys().next_back().copied()));
    let found = use_live_query(move |phone| {
        let (life, summary) = (life.clone(), summary.clone());
        async move {
            Ok((
                likely(&phone, &life, &summary).await?,
                joined(&phone, life.id).await?,
            ))
        }
    });
    let offer = move |one: Likely| {
        let own = match one.kind {
            SubjectKind::Pair => Some(ids.get_value().0),
            _ => ids.get_value().1,
        };
        let draft = own.map(|own| join(one.kind.clone(), own, one.other));
        let joined = move |_| {
            let drafts = draft.clone().into_iter().collect();
            session.save_and(drafts, move |_| session.tell(words::pair::joined()));
        };
        view! { <p class="row">{one.say}<button class="quiet" on:click=joined>{words::pair::they_are_one()}</button></p> }
    };
    let apart = move |(subject, entry): (Subject, EntryId)| {
        let part = move |_| {
            session.save_and(vec![part(subject.clone(), entry)], move |_| {
                session.tell(words::pair::taken_apart())
            });
        };
        view! { <p class="row">{words::pair::joined_from_two()}" "<button class="quiet" on:click=part>{words::pair::take_apart()}</button></p> }
    };
    move || {
        let (likely, joined) = found.get()?;
        (!likely.is_empty() || !joined.is_empty()).then(|| {
            view! {
                <section class="card" aria-label=words::pair::perhaps_the_same()>
                    {likely.into_iter().map(offer).collect_view()}
                    {joined.into_iter().map(apart).collect_view()}
                </section>
            }
        })
    }
}

/// The subjects that are joined with the pair, and the entries that join them.
async fn joined(phone: &Phone, pair: SubjectId) -> Result<Vec<(Subject, EntryId)>, DeviceError> {
    let about = phone.entries_about(pair).await?;
    let standing = joins(&about, &SubjectKind::Pair);
    Ok(standing
        .map(|(subject, entry)| (subject.clone(), entry))
        .collect())
}

/// Pairs of the same customer that are described alike, and customers with one telephone number or name.
async fn likely(phone: &Phone, life: &PairHistory, summary: &Summary) -> Result<Vec<Likely>, DeviceError> {
    let Some((own_customer, _)) = life.customers.last_key_value() else {
        return Ok(Vec::new());
    };
    let digits: String = summary.phone.chars().filter(char::is_ascii_digit).collect();
    let words = if digits.len() >= 6 {
        &digits[digits.len() - 6..]
    } else {
        &summary.customer
    };
    if words.trim().is_empty() {
        return Ok(Vec::new());
    }
    let mut offers: Vec<Likely> = Vec::new();
    for other in phone.search(words, LOOKED_AT).await? {
        let one_owner =
            same_phone(&other.phone, &summary.phone) || same_words(&other.customer, &summary.customer);
        if other.id == life.id || !one_owner {
            continue;
        }
        // A pair cannot be in the shop twice at once.
        if same_words(&other.title, &summary.title) && !(other.open() && summary.open()) {
            let number = other.jobs.first().map_or("", |job| job.tag.as_str());
            offers.push(Likely {
                kind: SubjectKind::Pair,
                other: other.id,
                say: words::pair::perhaps_the_same_pair(number, &other.title),
            });
        }
        let theirs = phone.pair_history(other.id).await?;
        let unlike = theirs
            .customers
            .keys()
            .find(|id| !life.customers.contains_key(id));
        if let Some(id) = unlike
            && id != own_customer
            && !offers.iter().any(|offer| offer.other == *id)
        {
            offers.push(Likely {
                kind: SubjectKind::Customer,
                other: *id,
                say: words::pair::perhaps_the_same_customer(&other.customer, &other.phone),
            });
        }
    }
    Ok(offers)
}
