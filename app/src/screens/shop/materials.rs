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
            {none.then(|| view! { <p class="quiet">"Nothing yet: this work counts as using no material."</p> })}
            <ul class="plain" aria-label="Materials">{rows}</ul>
        })
    };
    view! {
        <Show when=move || shop.helper()><p>"What material costs is for repairers."</p></Show>
        <section hidden=move || shop.helper() data-ready="materials">
            <h1>"Materials"</h1>
            <p class="quiet">"What a pair takes of it, and what that costs without tax. The first counts for a step unless another is said there."</p>
            <OperationChoice label="Operation" value=operation/>
            {list}
            <Add operation/>
        </section>
    }
}

fn row(one: &Stock, code: &str, shop: ShopContext) -> AnyView {
    let session = use_session();
    let waste = if one.waste > 0.0 {
        format!(", {:.0} % wasted", one.waste * 100.0)
    } else {
        String::new()
    };
    let words = format!(
        "{} {} a pair at {}{waste}: {} a pair",
        one.quantity,
        one.unit,
        shop.money(one.cost_minor),
        shop.money(Minor::rounded(one.cost()))
    );
    let (code, name) = (code.to_owned(), one.material.clone());
    let label = format!("Without {name}");
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
    const ASKED: [(&str, &str); 5] = [
        ("Material", ""),
        ("Counted in", "pair"),
        ("One costs", ""),
        ("A pair takes", "1"),
        ("Wasted on top, %", "0"),
    ];
    let texts = ASKED.map(|(_, usual)| RwSignal::new(usual.to_owned()));
    let fields = ASKED.iter().zip(texts).map(|((label, _), text)| {
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
        <section class="card stack" aria-label="Another material">
            <div class="row">{fields}</div>
            <button on:click=add>"Put it on the list"</button>
        </section>
    }
}

/// The material that was typed; the error says in words what is wrong.
fn read(texts: &[String; 5], shop: ShopContext) -> Result<Stock, String> {
    let [material, unit, cost, quantity, waste] = texts;
    let cost_minor = shop
        .reads(cost)
        .ok_or_else(|| format!("One costs: “{cost}” is not an amount. For example 4.50."))?;
    let one = Stock {
        material: material.trim().to_owned(),
        unit: unit.trim().to_owned(),
        cost_minor,
        quantity: number(quantity).unwrap_or(f64::NAN),
        waste: number(waste).unwrap_or(f64::NAN) / 100.0,
    };
    let label = |field: &str| match field {
        "material" => "Material",
        "unit" => "Counted in",
        "cost_minor" => "One costs",
        "quantity" => "A pair takes",
        _ => "Wasted on top",
    };
    let checked = one.check();
    checked
        .map(|()| one)
        .map_err(|refused| [label(&refused.field), ": ", &refused.allowed, "."].concat())
}

fn write(shop: ShopContext, session: Session, code: &str, all: &[Stock]) {
    let value = serde_json::to_value(all).unwrap_or_default();
    let said = [operations::name(code), ": the list is saved."].concat();
    shop.set(session, vec![(field::stock(code), value)], move || {
        session.tell(said)
    });
}
