//! How much of the work had to be done again: by operation, cement, material of the sole, and person.

use leptos::prelude::*;
use shared::analytics::{RedoneBy, RedoneQuery, RedoneShare, RedoneShares};

use crate::analytics::recent;
use crate::device::analytics::ask_analytics;
use crate::parts::Toggle;
use crate::session::use_live_query;
use crate::shop::use_shop;

/// The ways in which the work can be grouped, and what they are called.
fn ways() -> [(RedoneBy, &'static str); 4] {
    [
        (RedoneBy::Operation, words::books::by_operation()),
        (RedoneBy::Cement, words::complaint::by_cement()),
        (RedoneBy::Sole, words::complaint::by_sole()),
        (RedoneBy::Person, words::books::by_person()),
    ]
}

/// The shares, folded until they are wanted: they are reckoned from all recent pairs.
#[component]
pub fn WorkAgain() -> impl IntoView {
    let opened = RwSignal::new(false);
    view! {
        <details class="card" on:toggle=move |_| opened.set(true)>
            <summary>{words::complaint::done_again()}</summary>
            <Show when=move || opened.get()><AgainShares/></Show>
        </details>
    }
}

#[component]
fn AgainShares() -> impl IntoView {
    let shop = use_shop();
    let by = RwSignal::new(RedoneBy::Operation);
    let chips = ways().map(|(way, words)| {
        let on = Signal::derive(move || by.get() == way);
        view! { <Toggle label=words on press=Callback::new(move |()| by.set(way))/> }
    });
    let shares = use_live_query(move |phone| {
        let asked = RedoneQuery {
            shop: shop.known(),
            by: by.get(),
        };
        async move { ask_analytics::<_, RedoneShares>(&asked, &recent(&phone).await?).await }
    });
    let list = move || {
        shares.get().map(|RedoneShares { rows, without_cause }| {
            let none = rows.is_empty().then(|| view! { <p>{words::complaint::nothing_counted()}</p> });
            let rows = rows.iter().map(|row| {
                view! { <li><strong>{row.name.clone()}</strong>" "<span>{told(row)}</span></li> }
            });
            let open = (without_cause > 0)
                .then(|| view! { <p class="quiet">{words::complaint::complaints_without_cause(without_cause)}</p> });
            view! {
                {none}
                <ul class="plain" aria-label=words::complaint::done_again() data-ready="redone">{rows.collect_view()}</ul>
                {open}
            }
        })
    };
    view! {
        <p class="quiet">{words::complaint::what_counts_as_done_again()}</p>
        <div class="chips" role="group" aria-label=words::complaint::done_again_by()>{chips.into_iter().collect_view()}</div>
        {list}
    }
}

/// A share with its interval, in percent; of too little work only the numbers.
fn told(row: &RedoneShare) -> String {
    let Some([low, high]) = row.between else {
        return words::complaint::too_few_to_tell(row.again, row.done);
    };
    let percent = 100.0 * f64::from(row.again) / f64::from(row.done);
    words::complaint::share_done_again(row.again, row.done, percent, 100.0 * low, 100.0 * high)
}
