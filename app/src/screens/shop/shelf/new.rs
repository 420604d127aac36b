//! A new material.

use leptos::prelude::*;

use super::form::{least_and_cost, more, name, there_now, unit};
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::commands::shelf::{TypedMaterial, add, first_count, read_amount};
use app_core::store::Surroundings;

/// The form, folded until wanted.
#[component]
pub fn NewMaterial() -> impl IntoView {
    let opened = RwSignal::new(false);
    view! {
        <details class="card" on:toggle=move |_| opened.set(true)>
            <summary>{words::shelf::add_material()}</summary>
            <Show when=move || opened.get()><NewForm/></Show>
        </details>
    }
}

/// Name, unit, what is there, the least and the cost; the rest can wait.
#[component]
fn NewForm() -> impl IntoView {
    let (session, shop) = (use_session(), use_shop());
    let form = RwSignal::new(TypedMaterial::new());
    let put = move |_| {
        let typed = form.get_untracked();
        let read = typed.read(shop.money_kind());
        let read = read.and_then(|material| {
            let there = read_amount(words::shelf::there_now(), &typed.on_hand)?;
            Ok((material, there))
        });
        let (material, there) = match read {
            Ok(read) => read,
            Err(why) => return session.ask_to_correct(why),
        };
        let Some(phone) = session.phone() else { return };
        let id = phone.surroundings().new_subject();
        let mut drafts = add(id, &material);
        drafts.extend(there.map(|seen| first_count(id, seen)));
        let said = words::shelf::is_on_shelf(material.name.trim());
        session.save_and(drafts, move |_| {
            form.set(TypedMaterial::new());
            session.tell(said);
        });
    };
    view! {
        <div class="row">{name(form)} {unit(form)} {there_now(form)} {least_and_cost(form)}</div>
        {more(form)}
        <button on:click=put>{words::shelf::put_on_shelf()}</button>
    }
}
