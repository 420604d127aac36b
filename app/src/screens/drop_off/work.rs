//! The work agreed on a pair, and its prices.

use leptos::prelude::*;
use shared::log::body::OperationCode;
use shared::log::body::Side;
use shared::trade::{Goods, operations};

use super::counter::{CounterForm, is_footwear};
use crate::parts::{Sides, Toggle, Typed};
use app_core::commands::{LineIn, price_id, work_id};

/// Operations that are asked for every day, shown first.
const USUAL: [&str; 14] = [
    "top_piece_replacement",
    "half_sole",
    "sole_guard",
    "resole_cemented",
    "resole_welted",
    "heel_block_rebuild",
    "recement_sole",
    "restitch_upper",
    "lining_patch",
    "zip_replacement",
    "elastic_replacement",
    "stretch",
    "clean_condition_polish",
    "small_repair",
];

/// The work on one pair: buttons for operations, and the lines they add.
#[component]
pub(super) fn Work(counter: CounterForm, place: usize) -> impl IntoView {
    let goods = counter.goods(place);
    let more = RwSignal::new(false);
    // Joined into one text for the memo to compare, so that the list is redrawn only when it differs.
    let own = Memo::new(move |_| {
        let goods = goods.get();
        let mut own = counter.shop.own_operations();
        own.retain(|one| counter.shop.price(one, &goods).is_some());
        own.join("\n")
    });
    let chips = move || {
        let (usual, rest) = offered(&goods.get());
        let rest = if more.get() { rest } else { Vec::new() };
        let own = own.get();
        let shown = usual
            .into_iter()
            .chain(rest)
            .chain(own.lines().map(str::to_owned));
        shown
            .map(|operation| chip(counter, place, operation.into()))
            .collect_view()
    };
    let count = Memo::new(move |_| counter.of_pair(place, |pair| pair.lines.len()).get());
    view! {
        <div class="chips" role="group" aria-label=words::drop_off::work() id=work_id(place) tabindex="-1">
            {chips}
            <button type="button" class="quiet" aria-expanded=move || if more.get() { "true" } else { "false" }
                on:click=move |_| more.update(|more| *more = !*more)>
                {move || if more.get() { words::drop_off::less_work() } else { words::drop_off::more_work() }}
            </button>
        </div>
        <Show when=move || more.get()><OtherWork counter place/></Show>
        <ul class="plain lines">
            <For each=move || 0..count.get() key=|at| *at let:at><Line counter place at/></For>
        </ul>
    }
}

/// The operations for a kind of goods: the everyday ones, then the others. For belts and bags there are so few that all
/// are shown at once.
fn offered(goods: &str) -> (Vec<String>, Vec<String>) {
    let kind = Goods::from(goods);
    let all = operations::operations_on(&kind).map(|one| one.code);
    let usual = |code: &&str| USUAL.contains(code) || !is_footwear(goods);
    let (usual, rest): (Vec<_>, Vec<_>) = all.partition(usual);
    let owned = |codes: Vec<&str>| codes.into_iter().map(str::to_owned).collect();
    (owned(usual), owned(rest))
}

fn chip(counter: CounterForm, place: usize, operation: OperationCode) -> impl IntoView {
    let label = operations::name(&operation).to_owned();
    let code = operation.clone();
    let on = counter.of_pair(place, move |pair| pair.has(&code));
    let press = Callback::new(move |()| toggle(counter, place, &operation));
    view! { <Toggle label on press/> }
}

fn toggle(counter: CounterForm, place: usize, operation: &str) {
    let goods = counter.goods(place).get_untracked();
    let listed = counter
        .shop
        .listed(operation, &goods)
        .map(|minor| counter.shop.typed(minor));
    counter.change_pair(place, |pair| pair.toggle(operation, listed));
}

/// Work that is in no list, described in words.
#[component]
fn OtherWork(counter: CounterForm, place: usize) -> impl IntoView {
    let words = RwSignal::new(String::new());
    let add = move |_| {
        let operation = words.get().trim().to_owned();
        if !operation.is_empty() {
            toggle(counter, place, &operation);
            words.set(String::new());
        }
    };
    let typed = Callback::new(move |text| words.set(text));
    view! {
        <div class="row">
            <Typed label=words::drop_off::other_work().to_owned() value=words.into() typed/>
            <button type="button" class="quiet" on:click=add>{words::drop_off::add_other_work()}</button>
        </div>
    }
}

/// One line: the operation, which shoe, the price.
#[component]
fn Line(counter: CounterForm, place: usize, at: usize) -> impl IntoView {
    let operation = line(counter, place, at, |line| line.operation.to_string());
    let name = Signal::derive(move || operations::name(&operation.get()).to_owned());
    let off = move |_| {
        counter.change_pair(place, |pair| drop(pair.lines.remove(at)));
    };
    let id = price_id(place, at);
    let label = Signal::derive(move || words::drop_off::price_of(&name.get()));
    let value = line(counter, place, at, |line| line.price.clone());
    let typed = Callback::new(move |text| {
        change_line(counter, place, at, |line| {
            line.price = text;
            line.by_hand = true;
        });
    });
    let missing = counter.is_wrong(id.clone());
    let unread = counter.said(move |form| {
        let line = form.pairs.get(place).and_then(|pair| pair.lines.get(at));
        line.is_some_and(|line| line.is_unread(counter.shop.money_kind()))
    });
    let wrong = Signal::derive(move || missing.get() || unread.get());
    let both_feet = counter.footwear(place);
    view! {
        <li class="row between line">
            <Show when=move || both_feet.get()><OfWhich counter place at name/></Show>
            <Typed label id=id inputmode="decimal" value typed wrong/>
            <button type="button" class="quiet" on:click=off>{move || words::drop_off::without(&name.get())}</button>
        </li>
    }
}

#[component]
fn OfWhich(counter: CounterForm, place: usize, at: usize, name: Signal<String>) -> impl IntoView {
    let side = counter.said(move |form| {
        let line = form.pairs.get(place).and_then(|pair| pair.lines.get(at));
        line.map_or(Side::Both, |line| line.side.clone())
    });
    let choose = Callback::new(move |side| change_line(counter, place, at, |line| line.side = side));
    let label = Signal::derive(move || words::drop_off::which_shoe(&name.get()));
    view! { <Sides label side choose/> }
}

fn line(
    counter: CounterForm,
    place: usize,
    at: usize,
    read: impl Fn(&LineIn) -> String + Send + Sync + 'static,
) -> Signal<String> {
    counter.of_pair(place, move |pair| {
        pair.lines.get(at).map(&read).unwrap_or_default()
    })
}

fn change_line(counter: CounterForm, place: usize, at: usize, change: impl FnOnce(&mut LineIn)) {
    counter.change_pair(place, |pair| {
        if let Some(line) = pair.lines.get_mut(at) {
            change(line);
        }
    });
}
