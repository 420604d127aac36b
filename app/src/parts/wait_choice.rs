//! Choosing what to wait for, and how long: the trade's usual waits first, no typing.

use leptos::prelude::*;
use shared::log::body::OperationCode;
use shared::log::body::Wait;
use shared::trade::{WaitKind, operation};

use crate::session::use_live_query;
use crate::shelf::{MaterialOffer, materials_to_wait_for};
use app_core::commands::shelf::waiting_for;
use app_core::stations::minutes_in_words;

/// The lengths of wait that are always offered, in minutes.
const LENGTHS: [u32; 6] = [5, 15, 30, 60, 720, 1440];

/// What is ordered most often.
fn materials() -> [&'static str; 6] {
    [
        words::parts::soles(),
        words::parts::top_pieces(),
        words::parts::leather(),
        words::parts::zip(),
        words::parts::elastic(),
        words::parts::other_material(),
    ]
}

/// Buttons for the usual waits after some operations, for waits of other lengths, and for waiting for something
/// ordered: a material of the shelf, those of the operations first, or something else.
#[component]
pub fn WaitChoice(
    /// The operations that the wait may belong to, the likeliest first.
    operations: Signal<Vec<OperationCode>>,
    /// Called with the wait that was chosen.
    start: Callback<Wait>,
) -> impl IntoView {
    let offer = move |label: String, wait: Wait| {
        view! { <button class="bench quiet" on:click=move |_| start.run(wait.clone())>{label}</button> }
    };
    let usual = move || {
        let of_each = usual_waits(&operations.get());
        let buttons = of_each.into_iter().map(|(kind, minutes, code)| {
            let label = words::parts::usual_wait(kind.words(), &minutes_in_words(minutes.into()));
            offer(
                label,
                Wait::drying(minutes, String::from(code), Some(kind.word().to_owned())),
            )
        });
        buttons.collect_view()
    };
    let lengths = LENGTHS.map(|minutes| {
        offer(
            minutes_in_words(minutes.into()),
            Wait::drying(minutes, String::new(), None),
        )
    });
    let ordered = materials().map(|what| offer(what.to_owned(), Wait::ordered(what)));
    // Where they cannot be had, the usual words are left.
    let kept =
        use_live_query(|phone| async move { Ok(materials_to_wait_for(phone).await.unwrap_or_default()) });
    let of_shelf = move |at_hand: bool| {
        let operations = operations.get();
        let kept = kept.get().unwrap_or_default().into_iter();
        let kept = kept.filter(|one| is_taken_by(one, &operations) == at_hand);
        let buttons = kept.map(|one| {
            let wait = waiting_for(one.id, &one.name);
            offer(one.name, wait)
        });
        buttons.collect::<Vec<_>>()
    };
    let others = move || {
        let others = of_shelf(false);
        let any = !others.is_empty();
        any.then(|| {
            view! {
                <details>
                    <summary>{words::shelf::other_materials_of_the_shelf()}</summary>
                    <div class="choices">{others}</div>
                </details>
            }
        })
    };
    view! {
        <div class="waits">
            <h3>{words::parts::drying()}</h3>
            <div class="choices">{usual} {lengths.into_iter().collect_view()}</div>
            <h3>{words::parts::waiting_for_material()}</h3>
            <div class="choices">{move || of_shelf(true)} {ordered.into_iter().collect_view()}</div>
            {others}
        </div>
    }
}

/// Whether one of these operations usually takes a material.
fn is_taken_by(material: &MaterialOffer, operations: &[OperationCode]) -> bool {
    material
        .operations
        .iter()
        .any(|operation| operations.contains(operation))
}

/// The waits that these operations usually bring, without repetition: what dries, the most minutes, and the operation.
fn usual_waits(operations: &[OperationCode]) -> Vec<(WaitKind, u32, OperationCode)> {
    let mut usual: Vec<(WaitKind, u32, OperationCode)> = Vec::new();
    for code in operations {
        for wait in operation(code).into_iter().flat_map(|known| known.bench_waits()) {
            let (kind, minutes) = (wait.kind, wait.minutes.high);
            if !usual.iter().any(|one| (one.0, one.1) == (kind, minutes)) {
                usual.push((kind, minutes, code.clone()));
            }
        }
    }
    usual
}
