//! The shelf: the materials that the shop keeps, what is there of each, and what has to be ordered.

mod amounts;
mod arrive;
mod change;
mod count;
mod form;
mod give;
mod new;
mod older;
mod on_order;
mod order;
mod row;

use leptos::prelude::*;
use shared::log::SubjectId;

use crate::parts::UndoLast;
use crate::selection::UndoScope;
use crate::shelf::{ShelfQuery, use_shelf};
use crate::shop::use_shop;
use new::NewMaterial;
use older::OlderList;
use on_order::OnOrder;
use order::OrderList;
use row::MaterialRow;

/// A link to the shelf, and how many materials are below their least.
#[component]
pub fn ShelfLink() -> impl IntoView {
    let shelf = use_shelf();
    view! {
        <p class="row">
            <a class="button" href="/shop/shelf">{words::shelf::shelf()}</a>
            <span role="status">{move || below_least(shelf)}</span>
        </p>
    }
}

/// How many materials are below their least, in words; `None` if none is.
fn below_least(shelf: ShelfQuery) -> Option<AnyView> {
    let shown = shelf.get().flatten()?;
    let kept = shown.uses.shelf.rows.iter().filter(|row| !row.state.is_retired());
    let low = kept.filter(|row| row.is_below_least()).count();
    (low > 0).then(|| {
        view! { <strong class="mark">{words::shelf::materials_below_least(low)}</strong> }.into_any()
    })
}

/// The materials, what is on order, what has to be ordered; and the older list while there is one.
#[component]
pub fn ShelfScreen() -> impl IntoView {
    let (shelf, shop) = (use_shelf(), use_shop());
    let ready = move || shelf.get().flatten().map(|_| "shelf");
    let part_of_it = move || shelf.get().flatten().is_some_and(|shown| !shown.whole);
    let none = move || {
        let shown = shelf.get().flatten();
        shown.is_some_and(|shown| shown.uses.materials.is_empty())
    };
    let retired = Memo::new(move |_| !listed(shelf, true).is_empty());
    // One at a time, because the labels of a form must be unique within the screen.
    let changing = RwSignal::new(None::<SubjectId>);
    let rows = move |retired: bool| {
        view! {
            <For each=move || listed(shelf, retired) key=|id| id.to_string() let:id>
                <MaterialRow id shelf changing/>
            </For>
        }
    };
    view! {
        <section class="stack" data-ready=ready>
            <h1>{words::shelf::shelf()}</h1>
            <p class="quiet">{words::shelf::what_the_shelf_says()}</p>
            <Show when=part_of_it><p class="bad" role="status">{words::shelf::cannot_count_yet()}</p></Show>
            <div role="status">{move || below_least(shelf)}</div>
            <UndoLast of=Some(UndoScope::Shelf)/>
            <Show when=none><p>{words::shelf::nothing_yet()}</p></Show>
            <ul class="plain" aria-label=words::shelf::materials()>{rows(false)}</ul>
            <Show when=move || !shop.helper()><NewMaterial/></Show>
            <OrderList shelf/>
            <OnOrder shelf/>
            <Show when=move || retired.get()>
                <details>
                    <summary>{words::shelf::no_longer_kept()}</summary>
                    <ul class="plain" aria-label=words::shelf::no_longer_kept()>{rows(true)}</ul>
                </details>
            </Show>
            <Show when=move || !shop.helper()><OlderList shelf/></Show>
        </section>
    }
}

/// The materials that are kept, or those that no longer are, in the order of the shelf. A material without a name and
/// without anything else is one whose first entries were taken back or have not come yet.
fn listed(shelf: ShelfQuery, retired: bool) -> Vec<SubjectId> {
    let shown = shelf.get().flatten();
    let rows = shown.iter().flat_map(|shown| &shown.uses.shelf.rows);
    let rows = rows.filter(|row| row.state.is_retired() == retired);
    let rows = rows.filter(|row| !row.name().is_empty() || row.on_hand.is_some() || row.on_order > 0);
    rows.map(|row| row.id).collect()
}
