//! Counting a material.

use leptos::prelude::*;
use shared::shelf::{ShelfRow, amount_words};

use super::amounts::{NamedMaterial, amount_field, asked, row_of};
use crate::selection::use_selection;
use crate::session::use_session;
use crate::shelf::ShelfQuery;
use app_core::commands::shelf::{count, stepped};

/// What lies there now, as a number that is typed or tapped. A device that has not read all records does not count: it
/// would take what it does not know for a difference.
#[component]
pub fn Count(of: NamedMaterial, shelf: ShelfQuery) -> impl IntoView {
    let (bench, session) = (use_selection(), use_session());
    let known = untrack(|| row_of(shelf, of.id));
    let shown = known.as_ref().and_then(ShelfRow::shown);
    let seen = RwSignal::new(shown.map_or_else(String::new, |amount| amount_words(amount.max(0))));
    let whole = move || shelf.get().flatten().is_some_and(|shown| shown.whole);
    let tap = move |sign: &'static str, label: String, units: i64| {
        let go = move |_| seen.update(|typed| *typed = stepped(typed, units));
        view! { <button class="quiet" aria-label=label on:click=go>{sign}</button> }
    };
    let taps = [
        tap("−", words::shelf::one_less(&of.name), -1),
        tap("+", words::shelf::one_more(&of.name), 1),
    ];
    let label = words::shelf::count_of(&of.name, &of.unit);
    let spoken = words::shelf::note_the_count_of(&of.name);
    let field = amount_field(label.clone(), seen);
    let note = move |_| {
        let Some(amount) = asked(session, &label, &seen.get_untracked()) else {
            return;
        };
        if let Some(row) = untrack(|| row_of(shelf, of.id)) {
            let said = words::shelf::counted(&of.name, &amount_words(amount), &of.unit);
            bench.act(vec![count(&row, amount)], said);
        }
    };
    view! {
        <div class="row">
            {field}
            {taps.into_iter().collect_view()}
            <button aria-label=spoken disabled=move || !whole() on:click=note>{words::shelf::note_the_count()}</button>
        </div>
    }
}
