//! The materials that each operation uses, as the shop lists them.

use leptos::prelude::*;
use shared::log::body::OperationCode;
use shared::log::body::field;
use shared::price::materials::{Stock, stock};
use shared::price::minor::Minor;
use shared::trade::operations;

use crate::parts::{OperationChoice, Typed};
use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::calc::number;

/// One operation at a time: its materials, the one used last first, and a form for another.
#[component]
pub fn Materials() -> impl IntoView {
    let shop = use_shop();
    let operation = RwSignal::new(Some(OperationCode::from("half_sole")));
    let list = move || {
        let code = operation.get()?;
        let all = stock(&shop.state(), &code);
        let none = all.is_empty();
        let rows = all.iter().map(|one| row(one, &code, shop)).collect_view();
        Some(view! {
            {none.then(|| view! { <p class="quiet">{words::shop::materials::nothing_yet()}</p> })}
            <ul class="plain" aria-label=words::shop::materials::materials()>{rows}</ul>
        })
    };
    view! {
        <Show when=move || shop.helper()><p>{words::shop::materials::for_repairers()}</p></Show>
        <section hidden=move || shop.helper() data-ready="materials">
            <h1>{words::shop::materials::materials()}</h1>
            <p class="quiet">{words::shop::materials::what_a_pair_takes()}</p>
            <OperationChoice label=words::shop::materials::operation() value=operation/>
            {list}
            <Add operation/>
        </section>
    }
}

fn row(one: &Stock, code: &str, shop: ShopContext) -> AnyView {
    let session = use_session();
    let unit_cost = shop.money(one.cost_minor);
    let cost = shop.money(Minor::rounded(one.cost()));
    let words = if one.waste > 0.0 {
        let waste = one.waste * 100.0;
        words::shop::materials::used_a_pair_with_waste(one.quantity, &one.unit, &unit_cost, waste, &cost)
    } else {
        words::shop::materials::used_a_pair(one.quantity, &one.unit, &unit_cost, &cost)
    };
    let (code, name) = (code.to_owned(), one.material.clone());
    let label = words::shop::materials::without(&name);
    let off = move |_| {
        let mut all = stock(&shop.state(), &code);
        all.retain(|other| other.material != name);
        write(shop, session, &code, &all);
    };
    view! { <li class="row between line"><span><strong>{one.material.clone()}</strong>" "{words}</span> <button class="quiet" on:click=off>{label}</button></li> }
        .into_any()
}

/// The form for another material of the operation shown.
#[component]
fn Add(operation: RwSignal<Option<OperationCode>>) -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let asked = [
        (words::shop::materials::material(), ""),
        (
            words::shop::materials::counted_in(),
            words::shop::materials::usual_unit(),
        ),
        (words::shop::materials::one_costs(), ""),
        (words::shop::materials::a_pair_takes(), "1"),
        (words::shop::materials::wasted_on_top_in_percent(), "0"),
    ];
    let texts = asked.map(|(_, usual)| RwSignal::new(usual.to_owned()));
    let fields = asked.iter().zip(texts).map(|((label, _), text)| {
        let label = *label;
        view! { <Typed label=label.to_owned() value=text.into() typed=Callback::new(move |typed| text.set(typed))/> }
    });
    let fields = fields.collect_view();
    let add = move |_| match read(&texts.map(|text| text.get()), shop) {
        Ok(one) => {
            let Some(code) = operation.get() else { return };
            let mut all = stock(&shop.state(), &code);
            all.retain(|other| other.material != one.material);
            all.insert(0, one);
            write(shop, session, &code, &all);
            texts[0].set(String::new());
        }
        Err(why) => session.complain(why),
    };
    view! {
        <section class="card stack" aria-label=words::shop::materials::another_material()>
            <div class="row">{fields}</div>
            <button on:click=add>{words::shop::materials::put_on_list()}</button>
        </section>
    }
}

/// The material that was typed; the error says in words what is wrong.
fn read(texts: &[String; 5], shop: ShopContext) -> Result<Stock, String> {
    let [material, unit, cost, quantity, waste] = texts;
    let cost_minor = shop
        .reads(cost)
        .ok_or_else(|| words::shop::materials::cost_is_not_an_amount(cost))?;
    let one = Stock {
        material: material.trim().to_owned(),
        unit: unit.trim().to_owned(),
        cost_minor,
        quantity: number(quantity).unwrap_or(f64::NAN),
        waste: number(waste).unwrap_or(f64::NAN) / 100.0,
    };
    let label = |field: &str| match field {
        "material" => words::shop::materials::material(),
        "unit" => words::shop::materials::counted_in(),
        "cost_minor" => words::shop::materials::one_costs(),
        "quantity" => words::shop::materials::a_pair_takes(),
        _ => words::shop::materials::wasted_on_top(),
    };
    let checked = one.check();
    checked
        .map(|()| one)
        .map_err(|refused| words::shop::materials::allowed_is(label(&refused.field), &refused.allowed))
}

fn write(shop: ShopContext, session: Session, code: &str, all: &[Stock]) {
    let value = serde_json::to_value(all).unwrap_or_default();
    let said = words::shop::materials::list_is_saved(operations::name(code));
    shop.set(session, vec![(field::stock(code), value)], move || {
        session.tell(said)
    });
}
