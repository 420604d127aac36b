//! What a step took from the shelf: one tap says it.

use leptos::html::Details;
use leptos::prelude::*;
use shared::log::body::{Step, Used};
use shared::log::fold::{Item, JobState};
use shared::log::{Draft, EntryId, SubjectId};
use shared::price::materials::{Stock, stock};
use shared::price::records::StepFact;
use shared::shelf::{
    KeptMaterial, TakeSuggestion, UsualTakes, amount_words, derived_takes, other_materials, suggestions,
    thousandths,
};
use shared::trade::operations;

use crate::parts::Typed;
use crate::selection::{Selection, use_selection};
use crate::session::use_session;
use crate::shelf::MaterialUses;
use crate::shop::use_shop;
use app_core::commands::shelf::{read_amount, take, taking, usually_takes};

/// What is unfolded in the list of steps, which is drawn anew while somebody uses it: the step, and what stands over
/// the fold.
pub(super) type UnfoldedStep = RwSignal<Option<(EntryId, &'static str)>>;

/// A step that somebody says something of.
#[derive(Clone, Copy)]
struct StepMade<'a> {
    step: EntryId,
    fact: &'a StepFact,
    /// What is said of the step if it took nothing.
    draft: &'a Draft,
    bench: Selection,
    unfolded: UnfoldedStep,
}

impl StepMade<'_> {
    /// A button that says that the step took this and nothing else.
    fn button(self, class: &'static str, pressed: bool, label: String, used: Used, said: String) -> AnyView {
        let bench = self.bench;
        let draft = taking(self.draft.clone(), vec![used]);
        let go = move |_| bench.act(vec![draft.clone()], said.clone());
        view! { <button class=class aria-pressed=pressed.to_string() on:click=go>{label}</button> }.into_any()
    }

    /// A material with the amount that the step has taken or, if it has taken none of it, probably took.
    fn chip(self, one: &TakeSuggestion, taken: Option<i64>) -> AnyView {
        let suggested = amount_words(one.thousandths.into());
        let amount = taken.map_or_else(|| suggested.clone(), amount_words);
        let label = words::shelf::takes(&one.name, &amount, &one.unit);
        let said = words::shelf::was_taken(&one.name, &suggested, &one.unit);
        self.button("chip", taken.is_some(), label, one.used(), said)
    }
}

/// The materials that a step took or may have taken, each as a button; what it has taken is shown as pressed. `None` if
/// the shop keeps none, and its older list has no choice for the operation.
pub(super) fn taken(
    job: SubjectId,
    state: &JobState,
    (step, fact): (&Item<Step>, &StepFact),
    uses: &MaterialUses,
    unfolded: UnfoldedStep,
) -> Option<AnyView> {
    let shop = use_shop().state();
    let draft = take(job, state, step.entry, Vec::new());
    let made = StepMade {
        step: step.entry,
        fact,
        draft: &draft,
        bench: use_selection(),
        unfolded,
    };
    if uses.materials.is_empty() {
        return of_older_list(made, &stock(&shop, &fact.operation));
    }
    let usual = UsualTakes::of(&uses.materials, &shop);
    let mut now = usual.taken(fact);
    now.retain(|(_, amount)| *amount > 0);
    let taken = |material: SubjectId| {
        now.iter()
            .find(|(id, _)| *id == material)
            .map(|(_, amount)| *amount)
    };
    let mut likely = suggestions(fact, &uses.shelf, &usual, &uses.usage);
    let others = other_materials(fact, &uses.shelf, &usual, &uses.usage);
    let (first_time, others): (Vec<_>, Vec<_>) =
        others.into_iter().partition(|one| taken(one.material).is_some());
    likely.extend(first_time);
    let chips = likely.iter().map(|one| made.chip(one, taken(one.material)));
    let chips = chips.collect_view();
    let more = others.iter().map(|one| made.chip(one, None)).collect_view();
    let more = (!others.is_empty()).then(|| {
        let label = words::shelf::another_material();
        view! { <Fold step=step.entry label unfolded><div class="chips">{more}</div></Fold> }
    });
    let first = now
        .first()
        .and_then(|(id, amount)| Some((uses.materials.get(*id)?, *amount)));
    let amount = first.map(|(material, amount)| another_amount(made, material, amount, uses, &usual));
    Some(
        view! {
            <div class="took">
                <span class="chips" role="group" aria-label=words::work::what_was_used()>{chips}</span>
                {more}
                {amount}
            </div>
        }
        .into_any(),
    )
}

/// What is folded until wanted. It stays unfolded when the list is drawn anew.
#[component]
pub(super) fn Fold(
    step: EntryId,
    label: &'static str,
    unfolded: UnfoldedStep,
    children: Children,
) -> impl IntoView {
    let node = NodeRef::<Details>::new();
    let is_open = Memo::new(move |_| unfolded.get() == Some((step, label)));
    let toggled = move |_| {
        // The list may have been drawn anew since the tap.
        let Some(was_open) = is_open.try_get_untracked() else {
            return;
        };
        let opened = node.get_untracked().is_some_and(|node| node.open());
        match (opened, was_open) {
            (true, false) => unfolded.set(Some((step, label))),
            (false, true) => unfolded.set(None),
            _ => {}
        }
    };
    view! {
        <details node_ref=node open=move || is_open.get() on:toggle=toggled>
            <summary>{label}</summary>
            {children()}
        </details>
    }
}

/// Another amount of the material that the step took, or none of it; and this amount as the usual one.
fn another_amount(
    made: StepMade<'_>,
    material: &KeptMaterial,
    amount: i64,
    uses: &MaterialUses,
    usual: &UsualTakes<'_>,
) -> AnyView {
    let session = use_session();
    let name = material.state.name().unwrap_or_default().to_owned();
    let unit = material.state.unit().unwrap_or_default().to_owned();
    let label = words::shelf::amount_taken(&name, &unit);
    let typed = RwSignal::new(amount_words(amount));
    let (bench, draft, id) = (made.bench, made.draft.clone(), material.id);
    let none = Used {
        material: name.clone(),
        thousandths: 0,
        material_id: Some(id),
    };
    let nothing = made.button(
        "quiet",
        false,
        words::shelf::none_of_it().to_owned(),
        none.clone(),
        words::shelf::nothing_was_taken().to_owned(),
    );
    let asked = label.clone();
    let that_much = move |_| match read_amount(&asked, &typed.get_untracked()) {
        Ok(Some(amount)) => {
            let used = Used {
                thousandths: u32::try_from(amount).unwrap_or(u32::MAX),
                ..none.clone()
            };
            let said = words::shelf::was_taken(&name, &amount_words(amount), &unit);
            bench.act(vec![taking(draft.clone(), vec![used])], said);
        }
        Ok(None) => session.ask_to_correct(words::shelf::amount_is_wanted()),
        Err(why) => session.ask_to_correct(why),
    };
    let as_usual = as_usual(made.fact, material, uses, usual);
    view! {
        <Fold step=made.step label=words::shelf::another_amount() unfolded=made.unfolded>
            <div class="row">
                <Typed label inputmode="decimal" value=typed.into() typed=Callback::new(move |text| typed.set(text))/>
                <button on:click=that_much>{words::shelf::that_much()}</button>
                {nothing}
            </div>
            {as_usual}
        </Fold>
    }
    .into_any()
}

/// A button that makes what such steps took of the material the usual amount, which steps that say nothing then take.
/// Nothing if it is the usual amount already, or if another material is usual.
fn as_usual(
    fact: &StepFact,
    material: &KeptMaterial,
    uses: &MaterialUses,
    usual: &UsualTakes<'_>,
) -> Option<AnyView> {
    let (session, shop) = (use_session(), use_shop());
    let operation = fact.operation.clone();
    let kept = uses.materials.iter().filter(|one| !one.state.is_retired());
    let mut others = kept.filter(|one| one.id != material.id);
    let other_is_usual = others.any(|one| one.state.takes(&operation).is_some());
    if other_is_usual || !usual.listed(&operation).is_empty() || shop.helper() {
        return None;
    }
    let amount = derived_takes(material.id, &operation, &uses.usage)?;
    let draft = usually_takes(material, &operation, amount)?;
    let name = operations::name(&operation).to_owned();
    let unit = material.state.unit().unwrap_or_default();
    let label = words::shelf::usual_from_now_on(&name, &amount_words(amount), unit);
    let said = words::shelf::is_usual(&name, material.state.name().unwrap_or_default());
    let go = move |_| {
        let said = said.clone();
        session.save_and(vec![draft.clone()], move |_| session.tell(said));
    };
    Some(view! { <button class="quiet" on:click=go>{label}</button> }.into_any())
}

/// The materials that the shop's older list has for the operation, as long as there is no shelf; the first one counts
/// for a step that says nothing.
fn of_older_list(made: StepMade<'_>, list: &[Stock]) -> Option<AnyView> {
    let usual = list.first().filter(|_| list.len() > 1)?;
    let used = made.fact.used.first();
    let counted = used.map_or(usual.material.as_str(), |one| one.material.as_str());
    let chips = list.iter().map(|one| {
        let amount = thousandths(one.quantity * made.fact.takes());
        let used = Used {
            material: one.material.clone(),
            thousandths: u32::try_from(amount).unwrap_or(0),
            material_id: None,
        };
        let said = words::work::was_used(&one.material);
        made.button("chip", one.material == counted, one.material.clone(), used, said)
    });
    let chips = chips.collect_view();
    Some(
        view! { <span class="chips" role="group" aria-label=words::work::what_was_used()>{chips}</span> }
            .into_any(),
    )
}
