//! What is on order: until it has come, or is called off.

use leptos::prelude::*;
use shared::log::{EntryId, UnixMs};
use shared::shelf::amount_words;

use super::amounts::NamedMaterial;
use super::arrive::Arrive;
use super::give::Give;
use crate::parts::on_day;
use crate::selection::use_selection;
use crate::shelf::ShelfQuery;
use app_core::commands::shelf::call_off;

/// An order of which something has not come.
#[derive(Debug, Clone, PartialEq, Eq)]
struct OpenOrder {
    of: NamedMaterial,
    order: EntryId,
    /// How much has not come, in thousandths of the unit.
    left: i64,
    at: UnixMs,
}

/// The open orders, oldest first; nothing if there is none.
#[component]
pub fn OnOrder(shelf: ShelfQuery) -> impl IntoView {
    let orders = Memo::new(move |_| open_orders(shelf));
    let any = Memo::new(move |_| orders.with(|orders| !orders.is_empty()));
    let lines = Callback::new(move |()| {
        let shown = untrack(|| shelf.get().flatten())?;
        Some(shown.uses.shelf.on_order_list())
    });
    view! {
        <Show when=move || any.get()>
            <section class="card" aria-label=words::shelf::on_order_now()>
                <h2>{words::shelf::on_order_now()}</h2>
                <ul class="plain">
                    <For each=move || orders.get() key=|one| format!("{one:?}") let:one>{open_order(one, shelf)}</For>
                </ul>
                <div class="row"><Give lines/></div>
            </section>
        </Show>
    }
}

fn open_order(one: OpenOrder, shelf: ShelfQuery) -> AnyView {
    let bench = use_selection();
    let OpenOrder { of, order, left, at } = one;
    let amount = amount_words(left);
    let said = words::shelf::is_on_order(&amount, &of.unit, &on_day(at));
    let draft = call_off(of.id, order);
    let called_off = words::shelf::called_off(&of.name);
    let go = move |_| bench.act(vec![draft.clone()], called_off.clone());
    let off = words::shelf::call_off_material(&of.name);
    view! {
        <li class="line">
            <span><strong>{of.name.clone()}</strong>" "{said}</span>
            <Arrive of order=Some(order) amount shelf/>
            <button class="quiet" aria-label=off on:click=go>{words::shelf::call_off()}</button>
        </li>
    }
    .into_any()
}

fn open_orders(shelf: ShelfQuery) -> Vec<OpenOrder> {
    let shown = shelf.get().flatten();
    let rows = shown.iter().flat_map(|shown| &shown.uses.shelf.rows);
    let orders = rows.flat_map(|row| {
        let open = row.state.open_orders();
        open.map(|order| OpenOrder {
            of: NamedMaterial::of(row),
            order: order.entry,
            left: row.state.left_of(order),
            at: order.at.utc,
        })
    });
    let mut all: Vec<_> = orders.collect();
    all.sort_by_key(|one| (one.at, one.order));
    all
}
