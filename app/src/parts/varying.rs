//! How an operation is done on a line of work: in which variant, how many pieces, and how high.

use leptos::prelude::*;
use shared::trade::amount::takes_height;
use shared::trade::operations::{self, Priced};

use super::{Toggle, Typed};
use app_core::commands::MOST_PIECES;

/// A chip for each variant of an operation, the usual one first; nothing where there is only one way to do it.
#[component]
pub fn Variants(
    /// The operation's word in the log.
    #[prop(into)]
    operation: Signal<String>,
    /// What the line is called, for screen readers.
    name: Signal<String>,
    /// The variant that is chosen; empty for none in particular.
    variant: Signal<String>,
    /// Called with the variant that was tapped; empty if it was chosen before.
    choose: Callback<String>,
    /// See [`Toggle`].
    #[prop(optional)]
    about: Signal<Option<String>>,
) -> impl IntoView {
    // Drawn anew only for another operation.
    let operation = Memo::new(move |_| operation.get());
    move || {
        let code = operation.get();
        let known = operations::operation(&code).filter(|known| !known.variants.is_empty())?;
        let chips = known.variants.iter().map(|one| {
            let on = Signal::derive(move || variant.with(|chosen| chosen == one.code));
            let press = Callback::new(move |()| {
                let chosen = if on.get_untracked() { "" } else { one.code };
                choose.run(chosen.to_owned());
            });
            view! { <Toggle label=one.name() on about press/> }
        });
        let label = move || words::parts::variant_of(&name.get());
        Some(view! { <div class="chips" role="group" aria-label=label>{chips.collect_view()}</div> })
    }
}

/// A counter for work that is priced for each piece; nothing for any other.
#[component]
pub fn HowMany(
    /// The operation's word in the log.
    #[prop(into)]
    operation: Signal<String>,
    /// What the line is called, for screen readers.
    name: Signal<String>,
    /// How many pieces there are.
    count: Signal<u32>,
    /// Called with the new number.
    choose: Callback<u32>,
) -> impl IntoView {
    let operation = Memo::new(move |_| operation.get());
    let none_fewer = move || count.get() <= 1;
    let none_more = move || count.get() >= MOST_PIECES;
    move || {
        let code = operation.get();
        operations::operation(&code).filter(|known| known.priced == Priced::Each)?;
        let fewer = move |_| choose.run(count.get_untracked().saturating_sub(1).max(1));
        let further = move |_| choose.run(count.get_untracked().saturating_add(1));
        Some(view! {
            <div class="row" role="group" aria-label=move || words::parts::how_many_of(&name.get())>
                <button type="button" class="quiet" disabled=none_fewer aria-label=move || words::parts::one_fewer(&name.get()) on:click=fewer>"−"</button>
                <output aria-live="polite">{move || count.get()}</output>
                <button type="button" class="quiet" disabled=none_more aria-label=move || words::parts::one_more(&name.get()) on:click=further>"+"</button>
            </div>
        })
    }
}

/// A field for the height of a raise, as it was prescribed; nothing for any other work.
#[component]
pub fn PrescribedHeight(
    /// The operation's word in the log.
    #[prop(into)]
    operation: Signal<String>,
    /// What the line is called, for screen readers.
    name: Signal<String>,
    /// The height in whole millimeters; 0 where it was not stated.
    height_mm: Signal<u32>,
    /// Called with the height that was typed; 0 for anything but a number.
    choose: Callback<u32>,
) -> impl IntoView {
    let takes = Memo::new(move |_| operation.with(|operation| takes_height(operation)));
    let label = Signal::derive(move || words::parts::prescribed_height_of(&name.get()));
    let value = Signal::derive(move || match height_mm.get() {
        0 => String::new(),
        height => height.to_string(),
    });
    let typed = Callback::new(move |text: String| choose.run(text.trim().parse().unwrap_or_default()));
    view! {
        <Show when=move || takes.get()>
            <Typed label value inputmode="numeric" typed/>
        </Show>
    }
}
