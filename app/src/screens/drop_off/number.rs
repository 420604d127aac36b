//! The shop's own number for a pair: typed, or read from the tag.

use leptos::prelude::*;
use leptos::task::spawn_local;

use super::counter::CounterForm;
use crate::device::camera::can_scan;
use crate::parts::{Scanner, Typed};
use crate::session::{use_live_query, use_session};
use app_core::stations::{StationRow, answering, in_shop, number_meant};

/// The field, a button to scan a tag, and the pairs in the shop that have this number already.
#[component]
pub(super) fn OwnNumber(counter: CounterForm, place: usize) -> impl IntoView {
    let session = use_session();
    let scanning = RwSignal::new(false);
    let number = counter.of_pair(place, |pair| pair.tag.clone());
    let write = move |text| counter.change_pair(place, |pair| pair.tag = text);
    let close = Callback::new(move |()| scanning.set(false));
    let read = Callback::new(move |text: String| {
        scanning.set(false);
        let Some(phone) = session.phone() else { return };
        spawn_local(async move {
            match phone.in_shop().await {
                Ok(pairs) => match number_meant(in_shop(pairs), &text) {
                    Some(number) => write(number),
                    None => session.complain(words::drop_off::tag_of_no_pair_in_the_shop()),
                },
                Err(error) => session.complain(error),
            }
        });
    });
    let scan = can_scan().then(|| {
        view! {
            <button type="button" class="quiet" aria-label=words::drop_off::scan_own_tag_number() aria-pressed=move || scanning.get().to_string()
                on:click=move |_| scanning.update(|on| *on = !*on)>{words::drop_off::scan()}</button>
        }
    });
    view! {
        <div class="own-number stack">
            <div class="row">
                <Typed label=words::drop_off::own_tag_number().to_owned() value=number typed=Callback::new(write)/>
                {scan}
            </div>
            <Show when=move || scanning.get()><Scanner read close/></Show>
            <Hanging number/>
        </div>
    }
}

/// The pairs in the shop that have the number already. This is allowed: rolls of tags begin again at 1.
#[component]
fn Hanging(number: Signal<String>) -> impl IntoView {
    let bearing = use_live_query(move |phone| {
        let number = number.get();
        async move {
            if number.trim().is_empty() {
                return Ok(Vec::new());
            }
            Ok(answering(in_shop(phone.in_shop().await?), &number))
        }
    });
    let told = move || {
        let bearing = bearing.get().unwrap_or_default();
        bearing
            .iter()
            .map(|row| view! { <strong>{hangs_on(row)}" "</strong> })
            .collect_view()
    };
    view! { <p class="hanging" role="status">{told}</p> }
}

fn hangs_on(row: &StationRow) -> String {
    if row.customer.is_empty() {
        words::drop_off::number_hangs_on_pair(&row.job.tag, &row.title)
    } else {
        words::drop_off::number_hangs_on_pair_of(&row.job.tag, &row.title, &row.customer)
    }
}
