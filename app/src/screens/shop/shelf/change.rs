//! Changing what is said of a material, and giving it up.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::OperationCode;
use shared::shelf::{KeptMaterial, all_derived_takes, amount_words};
use shared::trade::operations;

use super::form::{MaterialFields, least_and_cost, more, name, unit};
use crate::parts::{OperationChoice, Typed};
use crate::selection::use_selection;
use crate::session::use_session;
use crate::shelf::ShelfQuery;
use crate::shop::use_shop;
use app_core::commands::shelf::{TypedMaterial, edit, retire};

/// What a pair takes if nothing is known of it: one of the unit.
const ONE: &str = "1";

/// Buttons that open the form, and that give the material up or take it back.
#[component]
pub fn Change(
    id: SubjectId,
    shelf: ShelfQuery,
    /// The material whose form is open.
    changing: RwSignal<Option<SubjectId>>,
) -> impl IntoView {
    let bench = use_selection();
    let known = move || {
        let shown = shelf.get().flatten()?;
        shown.uses.materials.get(id).cloned()
    };
    // What the buttons are called depends on these alone.
    let said = Memo::new(move |_| {
        let known = known()?;
        Some((
            known.state.name().unwrap_or_default().to_owned(),
            known.state.is_retired(),
        ))
    });
    let open = move || changing.get() == Some(id);
    let toggle = move |_| changing.set((!open()).then_some(id));
    let give_up = move |_| {
        let Some(material) = untrack(known) else { return };
        let name = material.state.name().unwrap_or_default();
        let (retired, told) = match material.state.is_retired() {
            true => (false, words::shelf::is_kept_again(name)),
            false => (true, words::shelf::is_no_longer_kept(name)),
        };
        bench.act(retire(&material, retired).into_iter().collect(), told);
    };
    let spoken = move || {
        let (name, retired) = said.get()?;
        Some(match retired {
            true => words::shelf::keep_material_again(&name),
            false => words::shelf::no_longer_keep_material(&name),
        })
    };
    let label = move || match said.get() {
        Some((_, true)) => words::shelf::keep_again(),
        _ => words::shelf::no_longer_keep(),
    };
    let changes = move || said.get().map(|(name, _)| words::shelf::change_material(&name));
    let form = move || {
        let material = untrack(known)?;
        let usage = untrack(|| shelf.get().flatten())?;
        let derived = all_derived_takes(id, &usage.uses.usage);
        Some(view! { <ChangeForm material derived changing/> })
    };
    view! {
        <div class="row">
            <button class="quiet" aria-label=changes aria-expanded=move || open().to_string() on:click=toggle>
                {words::shelf::change()}
            </button>
            <button class="quiet" aria-label=spoken on:click=give_up>{label}</button>
        </div>
        <Show when=open>{form}</Show>
    }
}

/// The form. What is saved is what differs from the material as it was when the form was opened.
#[component]
fn ChangeForm(
    material: KeptMaterial,
    /// What a pair takes in each operation, by the last steps.
    derived: Vec<(OperationCode, i64)>,
    changing: RwSignal<Option<SubjectId>>,
) -> impl IntoView {
    let (bench, session, shop) = (use_selection(), use_session(), use_shop());
    let form = RwSignal::new(untrack(|| TypedMaterial::of(&material, shop.money_kind())));
    // Amounts that were counted are of this unit.
    let unit = material.state.begun().is_none().then(|| unit(form));
    let said = material.state.unit().unwrap_or_default().to_owned();
    let save = move |_| match form.get_untracked().read(shop.money_kind()) {
        Ok(read) => {
            let drafts = edit(&material, &read);
            changing.set(None);
            if !drafts.is_empty() {
                bench.act(drafts, words::shelf::changed(read.name.trim()));
            }
        }
        Err(why) => session.ask_to_correct(why),
    };
    view! {
        <section class="card stack">
            <div class="row">{name(form)} {unit} {least_and_cost(form)}</div>
            <Takes form derived unit=said/>
            {more(form)}
            <button on:click=save>{words::shelf::save_changes()}</button>
        </section>
    }
}

/// What a pair takes in each operation: what is noted, what the last steps took, and another operation.
#[component]
fn Takes(form: MaterialFields, derived: Vec<(OperationCode, i64)>, unit: String) -> impl IntoView {
    let another = RwSignal::new(None::<OperationCode>);
    let noted = Memo::new(move |_| {
        form.with(|form| {
            let codes = form.takes.iter().map(|(code, _)| code.clone());
            codes.collect::<Vec<_>>()
        })
    });
    let in_unit = unit.clone();
    let amount = move |code: OperationCode| {
        let label = words::shelf::operation_takes(operations::name(&code), &in_unit);
        let of = code.clone();
        let value = Signal::derive(move || form.with(|form| form.takes(&of).unwrap_or_default().to_owned()));
        let typed = Callback::new(move |text| form.update(|form| form.set_takes(&code, text)));
        view! { <Typed label inputmode="decimal" value typed/> }
    };
    let suggested = derived.into_iter().map(move |(code, amount)| {
        let amount = amount_words(amount);
        let label = words::shelf::by_last_steps(operations::name(&code), &amount, &unit);
        let (of, wanted) = (code.clone(), amount.clone());
        let is_so = move || form.with(|form| form.takes(&of) == Some(wanted.as_str()));
        let go = move |_| form.update(|form| form.set_takes(&code, amount.clone()));
        view! { <button class="chip" aria-pressed=move || is_so().to_string() on:click=go>{label}</button> }
    });
    let suggested = suggested.collect_view();
    let add = move |_| {
        if let Some(code) = another.get_untracked() {
            form.update(|form| {
                if form.takes(&code).is_none() {
                    form.set_takes(&code, ONE.to_owned());
                }
            });
            another.set(None);
        }
    };
    view! {
        <h3>{words::shelf::what_a_pair_takes()}</h3>
        <p class="quiet">{words::shelf::what_takes_mean()}</p>
        <div class="row"><For each=move || noted.get() key=|code| code.to_string() let:code>{amount(code)}</For></div>
        <div class="chips">{suggested}</div>
        <div class="row">
            <OperationChoice label=words::shelf::another_operation() value=another/>
            <button class="quiet" on:click=add>{words::shelf::add_operation()}</button>
        </div>
    }
}
