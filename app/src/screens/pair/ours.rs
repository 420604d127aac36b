//! Whether a part was fitted by this shop: the answer for a part that is tapped, from the pair history.

use leptos::prelude::*;
use shared::log::fold::PairHistory;
use shared::trade::{Class, Component, Goods};

use super::super::open_up::{PartNames, ShoeTakenApart};
use super::fitted::{by, list, the_day};
use crate::shop::{ShopContext, use_shop};
use app_core::pair_history::{FittedPart, mended};

/// The drawing of a shoe and a list of every part. A tap shows who fitted the part, when, with what and under which
/// terms.
#[component]
pub fn Ours(
    life: PairHistory,
    fitted: Vec<FittedPart>,
    /// Whether the pair may be back with a complaint. A pair that is in the shop was asked about when it came.
    came_back: bool,
) -> impl IntoView {
    let shop = use_shop();
    let open = RwSignal::new(false);
    let chosen = RwSignal::new(None);
    let goods = life.pair.goods().unwrap_or_else(|| Goods::from(""));
    // Goods without a kind count as shoes.
    let plain = goods
        .class()
        .is_some_and(|class| Class::PLAIN_ITEMS.contains(&class));
    let ours: Vec<Component> = fitted.iter().map(|part| part.part.clone()).collect();
    let noted = Signal::derive(move || ours.clone());
    let known = StoredValue::new((life, fitted));
    let drawn =
        move || (!plain).then(|| view! { <ShoeTakenApart chosen noted mark=words::pair::fitted_by_us()/> });
    let names = if plain {
        Component::OF_PLAIN_ITEMS
    } else {
        Component::KNOWN
    };
    let answer = move || {
        let part = chosen.get()?;
        Some(known.with_value(|(life, fitted)| {
            let answer = answered(life, fitted, &part, shop);
            view! {
                <div class="row between">
                    <h2>{part.words().to_owned()}</h2>
                    <button class="bench quiet" on:click=move |_| chosen.set(None)>{words::pair::another_part()}</button>
                </div>
                {answer}
            }
        }))
    };
    let asked = move || {
        open.get().then(|| {
            view! {
                <p>{words::pair::tap_the_part()}</p>
                {drawn}
                <PartNames chosen names/>
            }
        })
    };
    view! {
        <section class="card ours" aria-label=words::pair::was_this_ours()>
            <button class="bench" class:quiet=!came_back aria-expanded=move || if open.get() { "true" } else { "false" }
                on:click=move |_| { open.update(|open| *open = !*open); chosen.set(None); }>{words::pair::was_this_ours()}</button>
            {asked}
        </section>
        <section class="asked" aria-live="polite" class:open=move || chosen.get().is_some()>
            {answer}
        </section>
    }
}

fn answered(life: &PairHistory, fitted: &[FittedPart], part: &Component, shop: ShopContext) -> AnyView {
    let of_it: Vec<_> = fitted.iter().filter(|one| one.part == *part).collect();
    let work = mended(life, part).into_iter().map(|done| {
        let when = [the_day(done.at), by(done.person, shop)].concat();
        view! { <li>{done.work}" "<span class="quiet">{when}</span></li> }
    });
    let work: Vec<_> = work.collect();
    let verdict = match (
        of_it.iter().any(|one| one.until.is_none()),
        of_it.is_empty(),
        work.is_empty(),
    ) {
        (true, ..) => words::pair::ours(),
        (false, false, _) => words::pair::was_ours(),
        (false, true, false) => words::pair::worked_on_by_us(),
        (false, true, true) => words::pair::not_ours(),
    };
    let worked = (!work.is_empty()).then(|| view! { <ul class="plain fitted">{work}</ul> });
    view! {
        <p><strong>{verdict}</strong></p>
        {list(&of_it, shop)}
        {worked}
    }
    .into_any()
}
