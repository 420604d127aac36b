//! The goods that were sold on the ticket of a job, so that they are not forgotten when the pair is worked on and handed
//! over.

use leptos::prelude::*;
use shared::log::fold::{JobState, PairHistory};

use app_core::commands::counted_goods;

/// One line with the goods that go with the pair: `With it: 2 × Laces, Insoles`. Nothing where none were sold, and once the
/// pair has left the shop. Goods of a ticket with several pairs are named with each of them.
pub(super) fn with_it(job: &JobState, life: &PairHistory) -> AnyView {
    let ticket = life.ticket_of(job).filter(|_| job.handed_over.is_none());
    let sold = ticket.into_iter().flat_map(|ticket| &ticket.sold);
    let goods: Vec<String> = sold
        .map(|item| counted_goods(&item.body.what, item.body.count))
        .collect();
    if goods.is_empty() {
        return ().into_any();
    }
    view! { <p class="with-it">{words::work::with_it(&goods.join(", "))}</p> }.into_any()
}
