//! Choosing what to wait for, and how long: the trade's usual waits first, no typing.

use leptos::prelude::*;
use shared::log::body::OperationCode;
use shared::log::body::WaitFor;
use shared::trade::operation;

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

/// A wait that was chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chosen {
    /// What for.
    pub what: WaitFor,
    /// How long, in minutes, if it ends by itself.
    pub minutes: Option<u32>,
    /// The operation it follows, or what was ordered, in words.
    pub note: String,
}

/// Buttons for the usual waits after some operations, for waits of other lengths, and for waiting for something
/// ordered.
#[component]
pub fn WaitChoice(
    /// The operations that the wait may belong to, the likeliest first.
    operations: Signal<Vec<OperationCode>>,
    /// Called with the wait that was chosen.
    start: Callback<Chosen>,
) -> impl IntoView {
    let offer = move |label: String, what: WaitFor, minutes: Option<u32>, note: String| {
        let chosen = Chosen { what, minutes, note };
        view! { <button class="bench quiet" on:click=move |_| start.run(chosen.clone())>{label}</button> }
    };
    let drying = move |words: &str, minutes: u32, note: String| {
        let mut label = minutes_in_words(minutes.into());
        if !words.is_empty() {
            label = words::parts::usual_wait(words, &label);
        }
        offer(label, WaitFor::Drying, Some(minutes), note)
    };
    let usual = move || {
        let of_each = usual_waits(&operations.get());
        let buttons = of_each
            .into_iter()
            .map(|(words, minutes, code)| drying(words, minutes, code.into()));
        buttons.collect_view()
    };
    let lengths = LENGTHS.map(|minutes| drying("", minutes, String::new()));
    let ordered = materials().map(|what| offer(what.to_owned(), WaitFor::Material, None, what.to_owned()));
    view! {
        <div class="waits">
            <h3>{words::parts::drying()}</h3>
            <div class="choices">{usual} {lengths.into_iter().collect_view()}</div>
            <h3>{words::parts::waiting_for_material()}</h3>
            <div class="choices">{ordered.into_iter().collect_view()}</div>
        </div>
    }
}

/// The waits that these operations usually bring, without repetition: what for, the most minutes, and the operation.
fn usual_waits(operations: &[OperationCode]) -> Vec<(&'static str, u32, OperationCode)> {
    let mut usual: Vec<(&'static str, u32, OperationCode)> = Vec::new();
    for code in operations {
        for wait in operation(code).into_iter().flat_map(|known| known.bench_waits()) {
            let (words, minutes) = (wait.kind.words(), wait.minutes.high);
            if !usual.iter().any(|one| (one.0, one.1) == (words, minutes)) {
                usual.push((words, minutes, code.clone()));
            }
        }
    }
    usual
}
