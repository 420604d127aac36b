//! The shop's own cements: what it uses of each kind, with its times, and where it cements in another way than the
//! guide.

mod ways;

use leptos::prelude::*;
use shared::trade::cement_guide::{CementKind, OwnCements};

use super::form::ShopForm;
use crate::parts::Typed;
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::commands;
use app_core::commands::TypedCement;
use ways::Ways;

/// The form for the cements, in the order of [`CementKind::ALL`].
type CementForm = ShopForm<[TypedCement; CementKind::ALL.len()]>;

/// The product and the times of each kind of cement, and the shop's own ways.
#[component]
pub fn Cements() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let form: CementForm = ShopForm::of(move || {
        let own = OwnCements::of(&shop.state());
        CementKind::ALL.map(|kind| TypedCement::of(own.product(kind)))
    });
    let save = move |_| {
        let typed = form.values.get_untracked();
        let typed: Vec<_> = CementKind::ALL.into_iter().zip(typed).collect();
        match commands::cement_fields(&typed, &OwnCements::of(&shop.state())) {
            Ok(fields) => shop.set(session, fields, move || {
                form.follow();
                session.tell(words::shop::saved());
            }),
            Err(why) => session.ask_to_correct(why),
        }
    };
    let kinds = CementKind::ALL.into_iter().enumerate();
    let rows = kinds.map(|(at, kind)| product(form, at, kind)).collect_view();
    view! {
        <section class="card" aria-label=words::cement::cements()>
            <h2>{words::cement::cements()}</h2>
            <details>
                <summary>{words::cement::products()}</summary>
                <p class="quiet">{words::cement::cements_say()}</p>
                {rows}
                <button on:click=save>{words::cement::save_cements()}</button>
            </details>
            <details><summary>{words::cement::own_ways()}</summary><Ways/></details>
        </section>
    }
}

/// The inputs for one kind of cement.
fn product(form: CementForm, at: usize, kind: CementKind) -> AnyView {
    let one = move |label: String, inputmode: &'static str, place: fn(&mut TypedCement) -> &mut String| {
        let value = Signal::derive(move || place(&mut form.values.get()[at]).clone());
        let typed = Callback::new(move |text| form.edit(|all| *place(&mut all[at]) = text));
        view! { <Typed label inputmode value typed/> }
    };
    let name = kind.words();
    view! {
        <div class="row">
            {one(words::cement::product(name), "text", |typed| &mut typed.product)}
            {one(words::cement::product_wait(name), "numeric", |typed| &mut typed.wait)}
            {one(words::cement::product_open(name), "numeric", |typed| &mut typed.open)}
            {one(words::cement::product_coats(name), "numeric", |typed| &mut typed.coats)}
        </div>
    }
    .into_any()
}
