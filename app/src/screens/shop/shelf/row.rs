//! One material of the shelf: a line that opens.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::shelf::{CountCheck, OrderLine, ShelfRow, amount_words};

use super::amounts::{NamedMaterial, names, row_of, there};
use super::arrive::Arrive;
use super::change::Change;
use super::count::Count;
use super::order::OrderOne;
use crate::selection::use_selection;
use crate::shelf::{ShelfQuery, ShelfShown};
use crate::shop::use_shop;
use app_core::commands::shelf::go_on;

/// The material's name, what is there, and marks; opened, all that can be said of it.
#[component]
pub fn MaterialRow(
    /// The material.
    id: SubjectId,
    shelf: ShelfQuery,
    /// The material whose form is open.
    changing: RwSignal<Option<SubjectId>>,
) -> impl IntoView {
    let row = Memo::new(move |_| row_of(shelf, id));
    let opened = RwSignal::new(false);
    let shop = use_shop();
    let body = move || {
        // Made anew only when the material has another name or unit, so that what is typed stays.
        let of = Memo::new(move |_| row.with(|row| row.as_ref().map(NamedMaterial::of)));
        view! {
            {move || row.get().and_then(|row| doubts(&row))}
            {move || waiting(shelf, &of.get()?)}
            {move || of.get().map(|of| view! {
                <Count of=of.clone() shelf/>
                <OrderOne of=of.clone()/>
                <details>
                    <summary>{words::shelf::came_without_order()}</summary>
                    <Arrive of=of order=None amount=String::new() shelf/>
                </details>
            })}
            <Show when=move || !shop.helper()><Change id shelf changing/></Show>
        }
    };
    view! {
        <li class="line">
            <details on:toggle=move |_| opened.set(true)>
                <summary>{move || row.get().map(|row| summary(&row))}</summary>
                <Show when=move || opened.get()>{body}</Show>
            </details>
        </li>
    }
}

fn summary(row: &ShelfRow) -> AnyView {
    let of = NamedMaterial::of(row);
    let facts = OrderLine::of(row, 0).facts();
    let on_order = (row.on_order > 0).then(|| words::shelf::on_order(&amount_words(row.on_order), &of.unit));
    let low = (row.is_below_least() && !row.state.is_retired())
        .then(|| view! { <strong class="mark">{words::shelf::below_least()}</strong> });
    view! {
        <strong>{of.name}</strong>" "<span class="quiet">{facts}</span>" "<span data-there="">{there(row)}</span>" "
        {low}" "<span class="quiet">{on_order}</span>
    }
    .into_any()
}

/// Why it should be counted again; nothing if it need not be.
fn doubts(row: &ShelfRow) -> Option<AnyView> {
    let why = match row.check? {
        CountCheck::Twice => words::shelf::counted_twice(),
        CountCheck::Late => words::shelf::came_late(),
    };
    Some(view! { <p class="bad" role="status">{why}</p> }.into_any())
}

/// The pairs that wait for the material, and a button for those that could go on, because it has come.
fn waiting(shelf: ShelfQuery, of: &NamedMaterial) -> Option<AnyView> {
    let shown = shelf.get().flatten()?;
    let (come, still): (Vec<_>, Vec<_>) = shown.waiting_for(of.id).partition(|one| one.come);
    let still_there = !still.is_empty();
    let line = words::shelf::wait_for_it(still.len(), &names(&still));
    let gone_on = (!come.is_empty()).then(|| come_anyway(&shown, of));
    Some(
        view! {
            {still_there.then(|| view! { <p>{line}</p> })}
            {gone_on}
        }
        .into_any(),
    )
}

fn come_anyway(shown: &ShelfShown, of: &NamedMaterial) -> AnyView {
    let bench = use_selection();
    let come: Vec<_> = shown.waiting_for(of.id).filter(|one| one.come).collect();
    let (drafts, names) = (go_on(come.iter().copied()), names(&come));
    let said = words::shelf::gone_on(&names);
    let go = move |_| bench.act(drafts.clone(), said.clone());
    view! {
        <p class="row">
            <span>{words::shelf::waits_though_it_came(&names)}</span>
            <button aria-label=words::shelf::they_go_on_with(&of.name) on:click=go>{words::shelf::they_go_on()}</button>
        </p>
    }
    .into_any()
}
