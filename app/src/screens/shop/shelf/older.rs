//! The shop's older list of what each operation takes, and how its materials come onto the shelf.

use leptos::prelude::*;
use shared::log::body::{Body, OperationCode, field, material_field};
use shared::log::fold::ShopState;
use shared::price::materials::{OF_ANY, Stock, stock};
use shared::price::minor::Minor;
use shared::shelf::drafts_from_stock;
use shared::trade::operations;

use crate::session::use_session;
use crate::shelf::ShelfQuery;
use crate::shop::{ShopContext, use_shop};

/// The list as long as it has any line: a button that moves its materials over, and the lines.
#[component]
pub fn OlderList(shelf: ShelfQuery) -> impl IntoView {
    let shop = use_shop();
    let lines = Memo::new(move |_| lines(&shop.state()));
    let any = Memo::new(move |_| lines.with(|lines| !lines.is_empty()));
    let rows = move || lines.get().into_iter().map(|line| row(line, shop)).collect_view();
    view! {
        <Show when=move || any.get()>
            {move || move_over(shelf, shop)}
            <details>
                <summary>{words::shelf::older_list()}</summary>
                <p class="quiet">{words::shelf::what_the_older_list_does()}</p>
                <ul class="plain" aria-label=words::shelf::older_list()>{rows}</ul>
            </details>
        </Show>
    }
}

/// Every line of the list, by operation.
fn lines(shop: &ShopState) -> Vec<(OperationCode, Stock)> {
    let named = shop.details.iter();
    let operations = named.filter_map(|(name, _)| material_field::stocked_operation(name));
    let operations = operations.filter(|operation| *operation != OF_ANY);
    let lines = operations.flat_map(|operation| {
        let all = stock(shop, operation).into_iter();
        all.map(move |one| (OperationCode::from(operation), one))
    });
    lines.collect()
}

/// A button that puts the materials of the list on the shelf; nothing if all are there.
fn move_over(shelf: ShelfQuery, shop: ShopContext) -> Option<AnyView> {
    let session = use_session();
    let shown = shelf.get().flatten()?;
    let drafts = drafts_from_stock(&shop.state(), &shown.uses.materials);
    let opened = drafts
        .iter()
        .filter(|draft| matches!(draft.body, Body::Opened(_)));
    let materials = opened.count();
    let go = move |_| {
        session.save_and(drafts.clone(), move |_| {
            session.tell(words::shelf::moved_over(materials))
        });
    };
    (materials > 0).then(|| {
        view! { <p><button on:click=go>{words::shelf::move_over(materials)}</button></p> }.into_any()
    })
}

fn row((operation, one): (OperationCode, Stock), shop: ShopContext) -> AnyView {
    let session = use_session();
    let unit_cost = shop.money(one.cost_minor);
    let cost = shop.money(Minor::rounded(one.cost()));
    let words = if one.waste > 0.0 {
        let waste = one.waste * 100.0;
        words::shop::materials::used_a_pair_with_waste(one.quantity, &one.unit, &unit_cost, waste, &cost)
    } else {
        words::shop::materials::used_a_pair(one.quantity, &one.unit, &unit_cost, &cost)
    };
    let label = words::shop::materials::without(&one.material);
    let heading = words::shelf::line_of(operations::name(&operation), &one.material);
    let name = one.material;
    let off = move |_| {
        let mut all = stock(&shop.state(), &operation);
        all.retain(|other| other.material != name);
        let value = serde_json::to_value(&all).unwrap_or_default();
        let said = words::shop::materials::list_is_saved(operations::name(&operation));
        shop.set(session, vec![(field::stock(&operation), value)], move || {
            session.tell(said)
        });
    };
    view! {
        <li class="row between line">
            <span><strong>{heading}</strong>" "{words}</span>
            <button class="quiet" on:click=off>{label}</button>
        </li>
    }
    .into_any()
}
