//! Bench: what is in the shop.

use leptos::prelude::*;

use crate::device::worker::Worker;
use crate::parts::{InstallHint, PairRow};
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
                {none.then(|| view! { <InstallHint/> <p>"Nothing is in the shop. "<a href="/drop-off">"Take a pair in"</a>"."</p> })}
            }
        })
    };
    view! {
        <h1>"Bench"</h1>
        <Show when=move || worker.update_waiting().get()>
            <button on:click=move |_| worker.apply_update()>"Restart with the new version"</button>
        </Show>
        <Unsafe/>
        {rows}
    }
}

/// What would be lost with this device: always in sight, until a server or a backup has it.
#[component]
fn Unsafe() -> impl IntoView {
    let held =
        use_stored(|phone| async move { Ok((phone.counts().await?, phone.membership().await?.joined())) });
    let line = move || {
        let (counts, joined) = held.get()?;
        let waiting = counts.unsent + counts.unsent_blobs;
        match (waiting, joined) {
            (0, _) => None,
            (_, true) => Some(format!(
                "Only on this device so far: entries {}, pictures {}.",
                counts.unsent, counts.unsent_blobs
            )),
            (_, false) => {
                Some("These records are only on this device. Back them up, or join a shop.".to_owned())
            }
        }
    };
    view! { <p class="quiet" data-unsafe="">{line}</p> }
}
