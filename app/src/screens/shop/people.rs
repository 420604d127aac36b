//! The people who work here.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::PersonId;
use shared::log::body::{Person, Role};

use super::lock::Lock;
use crate::parts::{Toggle, Typed, UndoLast, Working};
use crate::selection::{Selection, UndoScope, use_selection};
use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::commands;
use app_core::store::Surroundings;

/// Who is working now, the screen lock; and, for repairers, the list of people and what each may see.
#[component]
pub fn People() -> impl IntoView {
    let shop = use_shop();
    view! {
        <section class="card" aria-label=words::shop::people::people()>
            <h2>{words::shop::people::people()}</h2>
            <p class="quiet">{words::shop::people::what_a_helper_sees()}</p>
            <Working/>
            <Show when=move || !shop.helper()>
                <ul class="plain">{move || shop.people().into_iter().map(person).collect_view()}</ul>
                <Add/>
                <UndoLast of=Some(UndoScope::Shop)/>
            </Show>
            <Lock/>
        </section>
    }
}

fn person(person: Person) -> AnyView {
    let (shop, session, bench) = (use_shop(), use_session(), use_selection());
    let helper = person.role == Role::Helper;
    let other = if helper { Role::Repairer } else { Role::Helper };
    let (what, change) = if helper {
        (
            words::shop::people::helper_after_name(),
            words::shop::people::make_repairer(&person.name),
        )
    } else {
        (
            words::shop::people::repairer_after_name(),
            words::shop::people::make_helper(&person.name),
        )
    };
    let changed = Person {
        role: other,
        ..person.clone()
    };
    let left = Person {
        left: true,
        ..person.clone()
    };
    let goes = words::shop::people::has_left(&person.name);
    view! {
        <li class="row between">
            <span><strong>{person.name}</strong>{what}</span>
            <span class="row">
                <button class="quiet" on:click=move |_| write(shop, session, bench, changed.clone())>{change}</button>
                <button class="quiet" on:click=move |_| write(shop, session, bench, left.clone())>{goes}</button>
            </span>
        </li>
    }
    .into_any()
}

#[component]
fn Add() -> impl IntoView {
    let (shop, session, bench) = (use_shop(), use_session(), use_selection());
    let name = RwSignal::new(String::new());
    let helper = RwSignal::new(false);
    let add = move |_| {
        let called = name.get().trim().to_owned();
        let Some(phone) = session.phone().filter(|_| !called.is_empty()) else {
            return session.ask_to_correct(words::shop::people::ask_for_name());
        };
        let person = Person {
            person: PersonId(phone.surroundings().uuid_v4()),
            name: called,
            role: if helper.get() {
                Role::Helper
            } else {
                Role::Repairer
            },
            left: false,
        };
        write(shop, session, bench, person);
        name.set(String::new());
    };
    let asked = Signal::derive(move || {
        let first = shop.people().is_empty();
        let label = if first {
            words::shop::people::your_name()
        } else {
            words::shop::people::somebody_else()
        };
        label.to_owned()
    });
    view! {
        <div class="row">
            <Typed label=asked value=name.into() typed=Callback::new(move |text| name.set(text))/>
            <Toggle label=words::shop::people::helper() on=helper.into() press=Callback::new(move |()| helper.update(|helper| *helper = !*helper))/>
            <button class="quiet" on:click=add>{words::shop::people::add()}</button>
        </div>
    }
}

/// What is noted about a person, in words.
pub(super) fn said_of(person: &Person) -> String {
    match (person.left, person.role == Role::Helper) {
        (true, _) => words::shop::people::noted_has_left(&person.name),
        (false, true) => words::shop::people::noted_works_as_helper(&person.name),
        (false, false) => words::shop::people::noted_works_as_repairer(&person.name),
    }
}

/// Saves a person. One who has left no longer works on this device.
fn write(shop: ShopContext, session: Session, bench: Selection, person: Person) {
    let state = shop.state();
    let said = said_of(&person);
    if person.left && session.person().get_untracked() == Some(person.person) {
        session.works_now(None);
    }
    spawn_local(async move {
        let Some(phone) = session.phone() else { return };
        match phone.shop_subject().await {
            Ok(subject) => bench.act(vec![commands::person(subject, &state, person)], said),
            Err(error) => session.complain(error),
        }
    });
}
