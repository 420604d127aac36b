//! What holds the job: waits, open questions, parts that were taken out; the old parts kept for the customer; and, for
//! a job that makes earlier work good, why that did not hold.

mod cause;

use leptos::html::Details;
use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::UnixMs;
use shared::log::body::OperationCode;
use shared::log::body::{Side, TakenOut, Wait, WaitFor};
use shared::log::fold::{Item, bench};
use shared::log::{Subject, SubjectKind};
use shared::trade::{Component, operations};

use super::{WorkJob, state_of};
use crate::device::screen::use_now;
use crate::parts::WaitChoice;
use crate::selection::{Selection, use_selection};
use app_core::commands;
use app_core::stations::time_left;
use cause::cause;

/// Everything that must be over, answered or put back before the pair can leave, and what goes with it.
#[component]
pub fn Holds(known: WorkJob) -> impl IntoView {
    let (top, now) = (use_selection(), use_now());
    move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        let waits = bench::open_waits(state).map(|one| wait_row(top, job, one, now));
        let waits = waits.collect_view();
        let out = bench::parts_out(state)
            .map(|one| out_row(top, job, one))
            .collect_view();
        let asked = bench::open_questions(state).map(|one| {
            let text = one.body.text.clone();
            view! { <li><strong>{words::work::waiting_for_the_customer()}</strong>{text}" "<a href=format!("/ask/{job}")>{words::work::what_they_said()}</a></li> }
        });
        let for_customer = bench::parts_for_customer(state).map(|one| kept_row(top, job, one));
        let for_customer = for_customer.collect_view();
        let disputed = state.agreed.iter().any(|line| line.versions.len() > 1);
        Some(view! {
            {cause(top, job, state)}
            {disputed.then(|| view! { <p class="bad">{words::work::agreed_differently()}</p> })}
            <ul class="plain holds" aria-label=words::work::what_holds_it()>{asked.collect_view()} {waits} {out} {for_customer}</ul>
        })
    }
}

/// A form to begin a wait, folded until wanted.
#[component]
pub fn StartWait(known: WorkJob) -> impl IntoView {
    let top = use_selection();
    let operations = Signal::derive(move || known.with(at_hand));
    let choice = NodeRef::<Details>::new();
    let start = Callback::new(move |wait: Wait| {
        if let Some(job) = known.with_untracked(|known| known.as_ref().map(|known| known.job)) {
            top.act(vec![commands::wait(job, wait)], words::work::waiting());
        }
        // Folded again, so that what is below comes back into view.
        if let Some(choice) = choice.get_untracked() {
            choice.set_open(false);
        }
    });
    view! {
        <details node_ref=choice><summary>{words::work::start_a_wait()}</summary><WaitChoice operations start/></details>
    }
}

fn wait_row(top: Selection, job: SubjectId, wait: &Item<Wait>, now: Signal<UnixMs>) -> impl IntoView + use<> {
    let what = match wait.body.what {
        WaitFor::Material => words::work::waiting_for_material(),
        _ => words::work::drying(),
    };
    let note = operations::name(&wait.body.note).to_owned();
    let end = bench::ends(wait);
    let left = move || {
        end.map(|end| match end > now.get() {
            true => time_left(end, now.get()),
            false => words::work::its_time_is_over().to_owned(),
        })
    };
    let over = commands::wait_over(job, wait.entry);
    let said = words::work::wait_is_over(what);
    view! {
        <li class="row between">
            <span><strong>{what}</strong>" "{note}" "<span class="left">{left}</span></span>
            <button class="bench" aria-label=words::work::wait_over_now(what) on:click=move |_| top.act(vec![over.clone()], said.clone())>{words::work::over_now()}</button>
        </li>
    }
}

fn out_row(top: Selection, job: SubjectId, out: &Item<TakenOut>) -> impl IntoView + use<> {
    let TakenOut { part, side, .. } = &out.body;
    let name = part_of(part, side);
    let back = commands::put_back(job, out.entry);
    let said = words::work::part_put_back(&name);
    view! {
        <li class="row between">
            <span><strong>{words::work::part_must_go_back_in()}</strong>{name.clone()}</span>
            <button class="bench" aria-label=words::work::part_is_back(&name) on:click=move |_| top.act(vec![back.clone()], said.clone())>{words::work::is_back()}</button>
        </li>
    }
}

/// A part that the customer gets with the pair.
fn kept_row(top: Selection, job: SubjectId, out: &Item<TakenOut>) -> impl IntoView + use<> {
    let TakenOut { part, side, .. } = &out.body;
    let name = part_of(part, side);
    let undo = commands::undo(Subject::new(SubjectKind::Job, job), out.entry);
    let said = words::work::part_is_not_kept(&name);
    view! {
        <li class="row between">
            <span><strong>{words::work::part_kept_for_the_customer()}</strong>{name.clone()}</span>
            <button class="bench quiet" aria-label=words::work::part_not_kept(&name) on:click=move |_| top.act(vec![undo.clone()], said.clone())>{words::work::not_kept()}</button>
        </li>
    }
}

fn part_of(part: &str, side: &Side) -> String {
    let mut name = Component::from(part).words().to_owned();
    name.push_str(side.after());
    name
}

/// The operations that a wait may belong to: the last one done, then the next one.
fn at_hand(known: &Option<super::JobLife>) -> Vec<OperationCode> {
    let Some((_, state)) = known.as_ref().and_then(state_of) else {
        return Vec::new();
    };
    let done = bench::done(state).last().map(|step| step.body.operation.clone());
    let next = bench::remaining(state)
        .first()
        .map(|code| OperationCode::from(*code));
    done.into_iter().chain(next).collect()
}
