//! What is noted about the inside of this job's shoes: findings with the notes on them, parts that were taken out, and
//! the construction.

mod name;

use leptos::prelude::*;
use shared::log::body::{Damage, field};
use shared::log::fold::{JobState, bench};
use shared::log::{EntryId, Subject, SubjectId, SubjectKind};
use shared::trade::component::Component;
use shared::trade::condition::Condition;
use shared::trade::construction::Construction;

use super::key::WhichIsIt;
use crate::parts::{AddNote, note_list};
use crate::screens::job::JobLife;
use crate::screens::pair::lines;
use crate::selection::use_selection;
use app_core::commands;
use app_core::commands::inside::can_be_named;
use app_core::commands::notes::{NoteTarget, on_entry};
use name::NameIt;

/// Findings, each of which can be withdrawn, named and remarked on; parts that must be put back; and parts that are
/// kept for the customer.
#[component]
pub(super) fn Noted(
    /// The job.
    known: Memo<Option<JobLife>>,
) -> impl IntoView {
    let found = Memo::new(move |_| known.with(|known| known.as_ref().map(findings).unwrap_or_default()));
    let any = Memo::new(move |_| found.with(|found| !found.is_empty()));
    let off = move || known.with(|known| known.as_ref().and_then(parts_off));
    view! {
        <Show when=move || any.get()>
            <section class="card">
                <h2>{words::open_up::noted()}</h2>
                <ul class="plain">
                    <For each=move || found.get() key=|entry| entry.to_string() let:entry><FindingNoted known entry/></For>
                </ul>
            </section>
        </Show>
        {off}
    }
}

/// The entries of the findings.
fn findings(known: &JobLife) -> Vec<EntryId> {
    let damage = known.state().into_iter().flat_map(|state| &state.damage);
    damage.map(|item| item.entry).collect()
}

/// A finding: withdrawing it, the notes on it, a form for the next one, and one to name a part or a condition in the
/// shop's own words. What it says never changes; only the notes are drawn anew, so that a form keeps what is written.
#[component]
fn FindingNoted(known: Memo<Option<JobLife>>, entry: EntryId) -> impl IntoView {
    let bench = use_selection();
    let finding = known.with_untracked(|known| {
        let known = known.as_ref()?;
        let found = known.state()?.damage.iter().find(|item| item.entry == entry)?;
        Some((known.job, found.clone()))
    });
    finding.map(|(job, finding)| {
        let draft = commands::undo(Subject::new(SubjectKind::Job, job), entry);
        let back = move |_| bench.act(vec![draft.clone()], words::open_up::finding_withdrawn());
        let called = called(&finding.body);
        let label = words::parts::notes_on(&called);
        let notes = move || {
            known.with(|known| {
                let notes = on_entry(known.as_ref()?.state()?, entry).collect();
                note_list(notes, job, label.clone())
            })
        };
        let said = lines::damage(&finding.body);
        let name = can_be_named(&finding.body)
            .then(|| view! { <NameIt job finding=finding.clone() called=called.clone()/> });
        let on = NoteTarget::job(job).entry(entry);
        view! {
            <li class="left-row">
                <div class="row between">{said}<button class="quiet" on:click=back>{words::open_up::withdraw()}</button></div>
                {notes}
                {name}
                <AddNote on about=called/>
            </li>
        }
    })
}

/// The name of a finding in sentences: its part and what is wrong with it.
fn called(finding: &Damage) -> String {
    let part = Component::from(finding.part.as_str());
    let condition = Condition::from(finding.condition.as_str()).words().to_lowercase();
    words::open_up::part_and_condition(part.words(), &condition)
}

/// The parts that are off: those that must be put back, and those that are kept for the customer.
fn parts_off(known: &JobLife) -> Option<impl IntoView + use<>> {
    let bench = use_selection();
    let (job, state) = (known.job, known.state()?);
    let subject = Subject::new(SubjectKind::Job, job);
    let out = bench::parts_out(state).map(|item| {
        let (part, entry) = (Component::from(item.body.part.as_str()), item.entry);
        let name = part.words().to_owned();
        let said = words::work::part_put_back(&name);
        let back = move |_| bench.act(vec![commands::put_back(job, entry)], said.clone());
        // A part that was repaired may never have been taken out.
        let never = commands::undo(subject.clone(), entry);
        let stayed = words::open_up::part_stayed_in(&name);
        let stays = move |_| bench.act(vec![never.clone()], stayed.clone());
        view! {
            <li class="row between">
                {name}
                <span class="row">
                    <button class="bench quiet" on:click=stays>{words::open_up::stayed_in()}</button>
                    <button class="bench" on:click=back>{words::open_up::is_back_in()}</button>
                </span>
            </li>
        }
    });
    let out = out.collect_view();
    let kept = bench::parts_for_customer(state).map(|item| {
        let part = Component::from(item.body.part.as_str());
        let name = [part.words(), item.body.side.after()].concat();
        let undo = commands::undo(subject.clone(), item.entry);
        let said = words::work::part_is_not_kept(&name);
        let not_kept = words::work::part_not_kept(&name);
        let go = move |_| bench.act(vec![undo.clone()], said.clone());
        view! { <li class="row between">{name}<button class="bench quiet" aria-label=not_kept on:click=go>{words::work::not_kept()}</button></li> }
    });
    let kept = kept.collect_view();
    Some(view! {
        {(!out.is_empty()).then(|| view! {
            <section class="card"><h2>{words::open_up::must_go_back_in()}</h2><ul class="plain">{out}</ul></section>
        })}
        {(!kept.is_empty()).then(|| view! {
            <section class="card"><h2>{words::open_up::kept_for_the_customer()}</h2><ul class="plain">{kept}</ul></section>
        })}
    })
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
    let known = Some(Construction::from(now.as_str())).filter(|known| !now.is_empty() && !is_offered(known));
    let options = Construction::offered().cloned().chain(known).map(|one| {
        let chosen = one.as_str() == now;
        view! { <option value=one.as_str().to_owned() selected=chosen>{one.words().to_owned()}</option> }
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

/// Whether a construction is among those to choose from; an older word for one is not.
fn is_offered(construction: &Construction) -> bool {
    Construction::offered().any(|one| one == construction)
}
