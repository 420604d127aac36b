//! What has to be ordered: the list, how it leaves the shop, and that it was ordered.

use std::collections::BTreeMap;

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::shelf::{OrderLine, amount_words};

use super::amounts::{NamedMaterial, amount_field, asked_some, names};
use super::give::Give;
use crate::parts::Typed;
use crate::selection::{Selection, use_selection};
use crate::session::{Session, use_session};
use crate::shelf::ShelfQuery;
use app_core::commands::shelf::{order, order_all, with_amounts};

/// The amounts that were typed in place of those of the list.
type TypedAmounts = RwSignal<BTreeMap<SubjectId, String>>;

/// What is below its least and not on order, with amounts that can be changed.
#[component]
pub fn OrderList(shelf: ShelfQuery) -> impl IntoView {
    let (bench, session) = (use_selection(), use_session());
    let lines = Memo::new(move |_| {
        let shown = shelf.get().flatten();
        shown.map_or_else(Vec::new, |shown| shown.uses.shelf.order_list())
    });
    let typed: TypedAmounts = RwSignal::new(BTreeMap::new());
    let chosen = Callback::new(move |()| chosen(session, &lines.get_untracked(), typed));
    let all = move |_| {
        if let Some(lines) = chosen.run(()) {
            ordered(bench, &lines, typed, words::shelf::all_ordered(lines.len()));
        }
    };
    let any = Memo::new(move |_| lines.with(|lines| !lines.is_empty()));
    view! {
        <section class="card" aria-label=words::shelf::order_list()>
            <h2>{words::shelf::order_list()}</h2>
            <Show when=move || !any.get()><p class="quiet">{words::shelf::nothing_to_order()}</p></Show>
            <ul class="plain">
                <For each=move || lines.get() key=|line| line.material.to_string() let:line>
                    <ListLine line lines typed shelf/>
                </For>
            </ul>
            <Show when=move || any.get()>
                <div class="row">
                    <Give lines=chosen/>
                    <button on:click=all>{words::shelf::order_all()}</button>
                </div>
            </Show>
        </section>
    }
}

/// One material of the list.
#[component]
fn ListLine(
    line: OrderLine,
    lines: Memo<Vec<OrderLine>>,
    typed: TypedAmounts,
    shelf: ShelfQuery,
) -> impl IntoView {
    let (bench, session) = (use_selection(), use_session());
    let id = line.material;
    let listed = move || {
        let listed = lines.with(|lines| {
            lines
                .iter()
                .find(|one| one.material == id)
                .map(|one| one.thousandths)
        });
        amount_words(listed.unwrap_or(0))
    };
    let value = Signal::derive(move || typed.with(|typed| typed.get(&id).cloned()).unwrap_or_else(listed));
    let change = Callback::new(move |text| typed.update(|typed| drop(typed.insert(id, text))));
    let one = line.clone();
    let go = move |_| {
        if let Some(lines) = chosen(session, std::slice::from_ref(&one), typed) {
            let amount = lines.first().map(|line| amount_words(line.thousandths));
            let said = words::shelf::was_ordered(&one.name, &amount.unwrap_or_default(), &one.unit);
            ordered(bench, &lines, typed, said);
        }
    };
    let waiting = move || {
        let shown = shelf.get().flatten()?;
        let waiting: Vec<_> = shown.waiting_for(id).collect();
        (!waiting.is_empty()).then(|| words::shelf::wait_for_it(waiting.len(), &names(&waiting)))
    };
    let label = words::shelf::amount_to_order(&line.name, &line.unit);
    let spoken = words::shelf::ordered_material(&line.name);
    view! {
        <li class="line">
            <strong>{line.name.clone()}</strong>" "<span class="quiet">{line.facts()}" "{line.supplier}</span>" "
            <span>{waiting}</span>
            <div class="row">
                <Typed label inputmode="decimal" value typed=change/>
                <button class="quiet" aria-label=spoken on:click=go>{words::shelf::ordered()}</button>
            </div>
        </li>
    }
}

/// The lines with the amounts that were typed. `None`, after saying so, if one cannot be read or nothing is left.
fn chosen(session: Session, lines: &[OrderLine], typed: TypedAmounts) -> Option<Vec<OrderLine>> {
    match typed.with_untracked(|typed| with_amounts(lines, typed)) {
        Ok(lines) if lines.is_empty() => {
            session.ask_to_correct(words::shelf::amount_is_wanted());
            None
        }
        Ok(lines) => Some(lines),
        Err(why) => {
            session.ask_to_correct(why);
            None
        }
    }
}

/// Notes that these lines were ordered. What was typed for them does not count for the next order.
fn ordered(bench: Selection, lines: &[OrderLine], typed: TypedAmounts, said: String) {
    bench.act(order_all(lines), said);
    typed.update(|typed| typed.retain(|id, _| !lines.iter().any(|line| line.material == *id)));
}

/// Ordering a material that is not on the list.
#[component]
pub fn OrderOne(of: NamedMaterial) -> impl IntoView {
    let (bench, session) = (use_selection(), use_session());
    let amount = RwSignal::new(String::new());
    let label = words::shelf::amount_of_more(&of.name, &of.unit);
    let spoken = words::shelf::more_is_ordered(&of.name);
    let field = amount_field(label.clone(), amount);
    let go = move |_| {
        if let Some(some) = asked_some(session, &label, &amount.get_untracked()) {
            let said = words::shelf::was_ordered(&of.name, &amount_words(some.into()), &of.unit);
            bench.act(vec![order(of.id, some, "")], said);
            amount.set(String::new());
        }
    };
    view! {
        <div class="row">
            {field}
            <button class="quiet" aria-label=spoken on:click=go>{words::shelf::ordered()}</button>
        </div>
    }
}
