//! The lines of work on a pair: in what, how many, on which shoe, at what price.

use leptos::prelude::*;
use shared::log::body::Side;
use shared::trade::package;

use super::counter::CounterForm;
use crate::parts::{HowMany, PrescribedHeight, Sides, Typed, Variants};
use app_core::commands::{LineIn, price_id};

/// One line: which shoe, the price, then what varies with its operation.
#[component]
pub(super) fn Line(counter: CounterForm, place: usize, at: usize) -> impl IntoView {
    let operation = line(counter, place, at, |line| line.operation.to_string());
    let name = counter.of_pair(place, move |pair| pair.label(at));
    // Several lines have choices of the same labels.
    let several = counter.of_pair(place, |pair| pair.lines.len() > 1);
    let about = Signal::derive(move || several.get().then(|| name.get()));
    let off = move |_| {
        let shop = counter.shop.state();
        counter.change_pair(place, |pair| pair.take_off(at, &shop));
    };
    let both_feet = counter.footwear(place);
    view! {
        <li class="line stack">
            <div class="row between">
                <Show when=move || both_feet.get()><OfWhich counter place at name about/></Show>
                <Price counter place at name/>
                <button type="button" class="quiet" on:click=off>{move || words::drop_off::without(&name.get())}</button>
            </div>
            <Varying counter place at operation name about/>
            <OtherShoe counter place at name/>
        </li>
    }
}

/// The price; one that is typed stays as it is.
#[component]
fn Price(counter: CounterForm, place: usize, at: usize, name: Signal<String>) -> impl IntoView {
    let id = price_id(place, at);
    let label = Signal::derive(move || words::drop_off::price_of(&name.get()));
    let value = line(counter, place, at, |line| line.price.clone());
    let typed = Callback::new(move |text| {
        counter.change_pair(place, |pair| {
            if let Some(line) = pair.lines.get_mut(at) {
                line.price = text;
                line.by_hand = true;
            }
        });
    });
    let missing = counter.is_wrong(id.clone());
    let unread = counter.said(move |form| {
        let line = form.pairs.get(place).and_then(|pair| pair.lines.get(at));
        line.is_some_and(|line| line.is_unread(counter.shop.money_kind()))
    });
    let wrong = Signal::derive(move || missing.get() || unread.get());
    view! { <Typed label id=id inputmode="decimal" value typed wrong/> }
}

/// The variant, the number of pieces, the height, and the package that the line is sold in: as far as its operation has
/// them.
#[component]
fn Varying(
    counter: CounterForm,
    place: usize,
    at: usize,
    operation: Signal<String>,
    name: Signal<String>,
    about: Signal<Option<String>>,
) -> impl IntoView {
    let variant = line(counter, place, at, |line| line.variant.clone());
    let vary = Callback::new(move |variant| change(counter, place, at, |line| line.variant = variant));
    let count = line(counter, place, at, |line| line.count);
    let number = Callback::new(move |count| change(counter, place, at, |line| line.count = count));
    let height_mm = line(counter, place, at, |line| line.height_mm);
    let raise = Callback::new(move |height| change(counter, place, at, |line| line.height_mm = height));
    let sold_in = line(counter, place, at, |line| line.package.clone());
    let sold_as = move || {
        let package = package(&sold_in.get())?;
        Some(view! { <p class="quiet">{words::drop_off::sold_as(package.name())}</p> })
    };
    view! {
        <Variants operation name variant choose=vary about/>
        <HowMany operation name count choose=number/>
        <PrescribedHeight operation name height_mm choose=raise/>
        {sold_as}
    }
}

/// On a line for one shoe, a button that adds the same operation for the other one, to be done differently.
#[component]
fn OtherShoe(counter: CounterForm, place: usize, at: usize, name: Signal<String>) -> impl IntoView {
    let lacks = counter.of_pair(place, move |pair| pair.lacks_other_shoe(at));
    let add = move |_| {
        let shop = counter.shop.state();
        counter.change_pair(place, |pair| pair.add_other_shoe(at, &shop));
    };
    let label = move || words::drop_off::other_shoe_of_work_differently(&name.get());
    view! {
        <Show when=move || lacks.get()>
            <button type="button" class="quiet" aria-label=label on:click=add>{words::drop_off::other_shoe_differently()}</button>
        </Show>
    }
}

#[component]
fn OfWhich(
    counter: CounterForm,
    place: usize,
    at: usize,
    name: Signal<String>,
    about: Signal<Option<String>>,
) -> impl IntoView {
    let side = counter.said(move |form| {
        let line = form.pairs.get(place).and_then(|pair| pair.lines.get(at));
        line.map_or(Side::Both, |line| line.side.clone())
    });
    let choose = Callback::new(move |side| change(counter, place, at, |line| line.side = side));
    let label = Signal::derive(move || words::drop_off::which_shoe(&name.get()));
    view! { <Sides label side choose about/> }
}

fn line<T: Default + Send + Sync + 'static>(
    counter: CounterForm,
    place: usize,
    at: usize,
    read: impl Fn(&LineIn) -> T + Send + Sync + 'static,
) -> Signal<T> {
    counter.of_pair(place, move |pair| {
        pair.lines.get(at).map(&read).unwrap_or_default()
    })
}

/// Changes a line; its price follows.
fn change(counter: CounterForm, place: usize, at: usize, change: impl FnOnce(&mut LineIn)) {
    let shop = counter.shop.state();
    counter.change_pair(place, |pair| pair.change(at, &shop, change));
}
