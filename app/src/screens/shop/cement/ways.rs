//! Where the shop cements two materials in another way than the guide.

use leptos::prelude::*;
use shared::trade::Material;
use shared::trade::cement_guide::{CementKind, OwnCements, OwnWay, glued_on_choices, glued_to_choices};

use crate::parts::Field;
use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::commands;
use app_core::commands::TypedWay;

/// The ways so far, and a form for one: an own way of the chosen pair is shown in it.
#[component]
pub fn Ways() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let (on, to) = (RwSignal::new(None::<Material>), RwSignal::new(None::<Material>));
    let kind = RwSignal::new(None::<CementKind>);
    let (prime, note) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    Effect::new(move |_| {
        let Some((sole, upper)) = on.get().zip(to.get()) else {
            return;
        };
        let own = untrack(|| OwnCements::of(&shop.state()));
        let way = own.way(&sole, &upper).cloned().unwrap_or_default();
        kind.set(way.kind);
        prime.set(way.prime.unwrap_or_default());
        note.set(way.note.unwrap_or_default());
    });
    let save = move |_| {
        let Some((sole, upper)) = on.get_untracked().zip(to.get_untracked()) else {
            return session.ask_to_correct(words::cement::choose_both());
        };
        let typed = TypedWay {
            kind: kind.get_untracked(),
            prime: prime.get_untracked(),
            note: note.get_untracked(),
        };
        write(shop, session, &sole, &upper, &typed);
    };
    let list = move || {
        let own = OwnCements::of(&shop.state());
        let rows = own.ways().map(|(sole, upper, way)| row(sole, upper, way, shop));
        rows.collect_view()
    };
    view! {
        <p class="quiet">{words::cement::own_ways_say()}</p>
        <ul class="plain" aria-label=words::cement::own_ways()>{list}</ul>
        <div class="row">
            {material(words::cement::glued_on(), glued_on_choices(), on)}
            {material(words::cement::glued_to(), glued_to_choices(), to)}
            {cement(kind)}
            <Field label=words::cement::primer_of_way() value=prime/>
            <Field label=words::cement::note_of_way() value=note/>
            <button on:click=save>{words::cement::save_way()}</button>
        </div>
    }
}

/// A choice of one material.
fn material(label: &'static str, choices: Vec<Material>, value: RwSignal<Option<Material>>) -> AnyView {
    let options = choices.into_iter().map(|one| {
        let (code, name) = (one.as_str().to_owned(), one.words().to_owned());
        view! { <option value=code>{name}</option> }
    });
    let options = options.collect_view();
    let choose = move |event| value.set(Some(Material::from(event_target_value(&event).as_str())));
    view! {
        <label class="field">
            <span>{label}</span>
            <select on:change=choose><option value="" hidden selected=true></option>{options}</select>
        </label>
    }
    .into_any()
}

/// The choice of the cement, or of the guide's.
fn cement(value: RwSignal<Option<CementKind>>) -> AnyView {
    let options = CementKind::ALL.map(|kind| {
        view! { <option value=kind.as_str() selected=move || value.get() == Some(kind)>{kind.words()}</option> }
    });
    let options = options.into_iter().collect_view();
    let choose = move |event| value.set(CementKind::of(&event_target_value(&event)));
    view! {
        <label class="field">
            <span>{words::cement::cement_of_way()}</span>
            <select on:change=choose>
                <option value="" selected=move || value.get().is_none()>{words::cement::as_the_guide()}</option>
                {options}
            </select>
        </label>
    }
    .into_any()
}

/// A way of the shop's own, and a button that gives the pair back to the guide.
fn row(sole: &Material, upper: &Material, way: &OwnWay, shop: ShopContext) -> AnyView {
    let session = use_session();
    let name = words::cement::way_of(sole.words(), upper.words());
    let label = words::cement::without_way(sole.words(), upper.words());
    let kind = way.kind.map(|kind| kind.words().to_owned());
    let said = [kind, way.prime.clone(), way.note.clone()].into_iter().flatten();
    let said = said.map(|text| view! { <span class="quiet">{text}</span>" " });
    let said = said.collect_view();
    let (sole, upper) = (sole.clone(), upper.clone());
    let off = move |_| write(shop, session, &sole, &upper, &TypedWay::default());
    view! {
        <li class="row between line">
            <span><strong>{name}</strong>" "{said}</span>
            <button class="quiet" on:click=off>{label}</button>
        </li>
    }
    .into_any()
}

fn write(shop: ShopContext, session: Session, sole: &Material, upper: &Material, typed: &TypedWay) {
    let field = commands::cement_way_value(sole, upper, typed);
    shop.set(session, vec![field], move || session.tell(words::shop::saved()));
}
