//! Bench: what is in the shop.

use leptos::prelude::*;

use crate::device::worker::Worker;
use crate::parts::PairRow;
use crate::workshop::use_stored;

/// Every pair in the shop, the earliest promised first.
#[component]
pub fn Bench() -> impl IntoView {
    let worker = expect_context::<Worker>();
    let pairs = use_stored(|phone| async move { phone.in_shop().await });
    let rows = move || {
        pairs.get().map(|mut pairs| {
            pairs.sort_by_key(|pair| {
                let job = pair.jobs.iter().find(|job| job.open);
                // A pair without a day comes after those that have one.
                job.map(|job| (job.day.is_empty(), job.day.clone(), job.opened_at))
            });
            let none = pairs.is_empty();
            view! {
                <ul class="pairs" data-ready="bench">
                    {pairs.into_iter().map(|summary| view! { <PairRow summary/> }).collect_view()}
                </ul>
                {none.then(|| view! { <p>"Nothing is in the shop. "<a href="/drop-off">"Take a pair in"</a>"."</p> })}
            }
        })
    };
    view! {
        <h1>"Bench"</h1>
        <Show when=move || worker.update_waiting().get()>
            <button on:click=move |_| worker.apply_update()>"Restart with the new version"</button>
        </Show>
        {rows}
    }
}
