//! The question whether work is wanted that usually goes with work that was added: "Heels too?" after a full sole.

use leptos::prelude::*;
use shared::trade::operations;

/// One line for each operation that has to be asked for; nothing if there is none.
#[component]
pub fn WorkToo(
    /// The operations to ask for, by their words in the log.
    #[prop(into)]
    asked: Signal<Vec<&'static str>>,
    /// Adds one of them.
    add: Callback<&'static str>,
) -> impl IntoView {
    let rows = move || {
        let rows = asked.get().into_iter().map(|code| {
            // Without what the name explains in brackets: this is a question to the customer.
            let name = operations::name(code);
            let name = name.split_once(" (").map_or(name, |(short, _)| short);
            view! {
                <p class="row between">
                    <span>{words::drop_off::work_too(name)}</span>
                    <button type="button" class="quiet" on:click=move |_| add.run(code)>{words::drop_off::add_work_too(name)}</button>
                </p>
            }
        });
        rows.collect_view()
    };
    view! { <div aria-live="polite">{rows}</div> }
}
