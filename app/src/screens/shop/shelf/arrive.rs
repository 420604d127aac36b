//! Noting that a material has come.

use leptos::prelude::*;
use shared::log::EntryId;
use shared::shelf::amount_words;

use super::amounts::{NamedMaterial, amount_field, asked_some, names};
use crate::selection::use_selection;
use crate::session::use_session;
use crate::shelf::{ShelfQuery, ShelfShown};
use crate::shop::use_shop;
use app_core::commands::shelf::arrived_and_on;

/// How much has come, for an order or without one, and what one cost if that is to be noted. The pairs that wait for
/// the material go on.
#[component]
pub fn Arrive(
    of: NamedMaterial,
    /// The order that it is for.
    order: Option<EntryId>,
    /// The amount that the form begins with.
    amount: String,
    shelf: ShelfQuery,
) -> impl IntoView {
    let (bench, session, shop) = (use_selection(), use_session(), use_shop());
    let (came, cost) = (RwSignal::new(amount), RwSignal::new(String::new()));
    let [label, cost_label, spoken] = match order {
        Some(_) => [
            words::shelf::how_much_came(&of.name, &of.unit),
            words::shelf::what_one_cost(&of.name),
            words::shelf::note_arrival_of(&of.name),
        ],
        None => [
            words::shelf::how_much_was_bought(&of.name, &of.unit),
            words::shelf::what_was_paid(&of.name),
            words::shelf::note_purchase_of(&of.name),
        ],
    };
    let field = amount_field(label.clone(), came);
    let price = move || (!shop.helper()).then(|| amount_field(cost_label.clone(), cost));
    let note = move |_| {
        let Some(amount) = asked_some(session, &label, &came.get_untracked()) else {
            return;
        };
        let typed = cost.get_untracked();
        let paid = shop.reads(&typed);
        if paid.is_none() && !typed.trim().is_empty() {
            return session.ask_to_correct(words::shop::materials::cost_is_not_an_amount(&typed));
        }
        let Some(shown) = untrack(|| shelf.get().flatten()) else {
            return;
        };
        if let Some(material) = shown.uses.materials.get(of.id) {
            let drafts = arrived_and_on(material, order, amount, paid, &shown.waiting);
            bench.act(drafts, said(&shown, &of, amount));
        }
    };
    view! {
        <div class="row">
            {field}
            {price}
            <button aria-label=spoken on:click=note>{words::shelf::note_arrival()}</button>
        </div>
    }
}

/// What has come, or which pairs go on.
fn said(shown: &ShelfShown, of: &NamedMaterial, amount: u32) -> String {
    let waiting: Vec<_> = shown.waiting_for(of.id).collect();
    if waiting.is_empty() {
        return words::shelf::came(&of.name, &amount_words(amount.into()), &of.unit);
    }
    words::shelf::came_and_go_on(waiting.len(), &of.name, &names(&waiting))
}
