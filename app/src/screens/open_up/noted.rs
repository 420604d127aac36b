//! What is noted about the inside of this job's shoes: findings, parts that were taken out, and the construction.

use leptos::prelude::*;
use shared::log::body::field;
use shared::log::fold::{JobState, bench};
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::trade::component::Component;
use shared::trade::construction::Construction;

use super::key::WhichIsIt;
use crate::screens::pair::lines;
use crate::selection::use_selection;
use app_core::commands;

/// Findings, each of which can be taken back, and parts that must be put back.
pub(super) fn noted(job: SubjectId, state: &JobState) -> impl IntoView + use<> {
    let bench = use_selection();
    let subject = Subject::new(SubjectKind::Job, job);
    let found = state.damage.iter().map(|item| {
        let draft = commands::undo(subject.clone(), item.entry);
        let back = move |_| bench.act(vec![draft.clone()], words::open_up::finding_taken_back());
        view! { <li class="row between">{lines::damage(&item.body)}<button class="quiet" on:click=back>{words::open_up::take_back()}</button></li> }
    });
    let found = found.collect_view();
    let out = bench::parts_out(state).map(|item| {
        let (part, entry) = (Component::from(item.body.part.as_str()), item.entry);
        let name = part.words().to_owned();
        let said = words::work::part_put_back(&name);
        let back = move |_| bench.act(vec![commands::put_back(job, entry)], said.clone());
        // A part that was repaired may never have been taken out.
        let never = commands::undo(subject.clone(), entry);
        let stayed = words::open_up::part_was_never_out(&name);
        let stays = move |_| bench.act(vec![never.clone()], stayed.clone());
        view! {
            <li class="row between">
                {name}
                <span class="row">
                    <button class="bench quiet" on:click=stays>{words::open_up::was_never_out()}</button>
                    <button class="bench" on:click=back>{words::open_up::is_back_in()}</button>
                </span>
            </li>
        }
    });
    let out = out.collect_view();
    view! {
        {(!state.damage.is_empty()).then(|| view! {
            <section class="card"><h2>{words::open_up::noted()}</h2><ul class="plain">{found}</ul></section>
        })}
        {(!out.is_empty()).then(|| view! {
            <section class="card"><h2>{words::open_up::must_go_back_in()}</h2><ul class="plain">{out}</ul></section>
        })}
    }
}

/// The construction: as guessed, as found when opened, as it leaves the shop.
#[component]
pub(super) fn BuiltLike(job: SubjectId, state: JobState) -> impl IntoView {
    let said = [
        (words::open_up::as_guessed(), field::CONSTRUCTION_GUESSED),
        (words::open_up::as_opened(), field::CONSTRUCTION_OPENED),
        (words::open_up::as_it_leaves(), field::CONSTRUCTION_LEFT),
    ];
    let state = StoredValue::new(state);
    let choices = said.map(|(label, name)| view! { <BuiltChoice job state label name/> });
    view! {
        <section class="card">
            <h2>{words::open_up::how_it_is_made()}</h2>
            <div class="row">{choices.into_iter().collect_view()}</div>
            <WhichIsIt job state/>
        </section>
    }
}

#[component]
fn BuiltChoice(
    job: SubjectId,
    state: StoredValue<JobState>,
    label: &'static str,
    name: &'static str,
) -> impl IntoView {
    let bench = use_selection();
    let now = state.with_value(|state| state.details.text(name).unwrap_or_default().to_owned());
    let options = Construction::KNOWN.iter().map(|one| {
        view! { <option value=one.as_str().to_owned() selected=one.as_str() == now>{one.words()}</option> }
    });
    let options = options.collect_view();
    let choose = move |event| {
        let chosen = event_target_value(&event);
        let subject = Subject::new(SubjectKind::Job, job);
        let draft = state.with_value(|state| commands::set(subject, &state.details, name, &chosen));
        if let Some(draft) = draft {
            let chosen = Construction::from(chosen.as_str());
            bench.act(
                vec![draft],
                words::open_up::construction_noted(label, chosen.words()),
            );
        }
    };
    view! {
        <div class="field">
            <label for=name>{label}</label>
            <select id=name on:change=choose>
                <option value="" selected=now.is_empty()>{words::open_up::construction_not_known_yet()}</option>
                {options}
            </select>
        </div>
    }
}
