//! The work on one job: its picture, the steps so far, the next one, and what is left after it.

mod add;
mod cement;
mod dock;
mod done;
mod film;
mod head;
mod holds;
mod material;
mod notes;
mod remaining;
mod step_cement;
mod took;

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::fold::JobState;

use super::bench::put_first;
use super::calc::measured;
use super::job::{JobLife, makes_good, use_job};
use super::with_it::with_it;
use crate::parts::{KeepPart, OpenFolds, Toggle, UnfoldedNote};
use crate::selection::use_selection;
use crate::session::use_session;

use add::AddWork;
use dock::Dock;
use done::DoneSteps;
use film::Film;
use head::WorkHead;
use holds::{Holds, StartWait};
use notes::{NotQuite, Notes};
use remaining::Remaining;

/// The job in the address; changes only when an entry about it or its pair does.
type WorkJob = Memo<Option<JobLife>>;

/// What is left of a job, and everything that can be done about it.
#[component]
pub fn Work() -> impl IntoView {
    UnfoldedNote::provide();
    OpenFolds::provide();
    let found = use_job();
    let missing = move || matches!(found.get(), Some(None));
    let known: WorkJob = Memo::new(move |_| found.get().flatten());
    let there = Memo::new(move |_| known.with(Option::is_some));
    view! {
        <Show when=missing><h1>{words::work::screen_name()}</h1> <p>{words::work::no_such_job()}</p></Show>
        <Show when=move || there.get()>
            <div class="work" data-ready="work">
                <WorkHead known/>
                {move || known.get().and_then(|found| Some(makes_good(found.state()?, &found.life)))}
                {move || known.get().and_then(|found| Some(with_it(found.state()?, &found.life)))}
                <Holds known/>
                <Film known/>
                <Remaining known/>
                <Ways known/>
                <MeasuredSoFar known/>
                <div class="folds">
                    <DoneSteps known/>
                    <StartWait known/>
                    <Rarer known/>
                </div>
                <Dock known/>
            </div>
        </Show>
    }
}

/// What is done once in a while, folded until wanted.
#[component]
fn Rarer(known: WorkJob) -> impl IntoView {
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    view! {
        <details class="rarer">
            <summary>{words::work::more()}</summary>
            <First known/>
            <AddWork known/>
            {move || job.get().map(|job| view! {
                <KeepPart job/>
                <NotQuite known job/>
                <a class="button bench quiet" href=format!("/reckon/{job}/wear")>{words::work::how_thick_still()}</a>
            })}
            {move || known.get().and_then(|found| ticket_link(&found))}
        </details>
    }
}

/// A toggle that puts the job before all others in the plan.
#[component]
fn First(known: WorkJob) -> impl IntoView {
    let (top, session) = (use_selection(), use_session());
    let on = Memo::new(move |_| {
        known.with(|known| {
            known
                .as_ref()
                .is_some_and(|known| known.state().is_some_and(|state| state.is_first()))
        })
    });
    let press = Callback::new(move |()| {
        if let Some(job) = known.with_untracked(|known| known.as_ref().map(|known| known.job)) {
            put_first(session, top, vec![job], !on.get_untracked());
        }
    });
    view! { <p class="chips"><Toggle label=words::work::do_this_first() on=on.into() press/></p> }
}

/// What was measured and calculated on this job; nothing if nothing was.
#[component]
fn MeasuredSoFar(known: WorkJob) -> impl IntoView {
    move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        (!state.measured.is_empty()).then(|| {
            view! {
                <section aria-label=words::work::measured()>
                    <h2>{words::work::measured()}</h2>
                    {measured(job, &state.measured)}
                </section>
            }
        })
    }
}

/// Opening up, asking, and a note, which is written where the notes stand, below.
#[component]
fn Ways(known: WorkJob) -> impl IntoView {
    let note = RwSignal::new(false);
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    let way = move |to: &'static str, label: &'static str| {
        let href = move || job.get().map(|job| format!("/{to}/{job}"));
        view! { <a class="button bench quiet" href=href>{label}</a> }
    };
    view! {
        <div class="three">
            {way("open", words::open_up::screen_name())} {way("ask", words::work::ask())}
            <button class="bench quiet" aria-expanded=move || note.get().to_string()
                on:click=move |_| note.set(true)>{words::work::note()}</button>
        </div>
        <Notes known wanted=note/>
    }
}

/// A link to the ticket.
fn ticket_link(known: &JobLife) -> Option<impl IntoView + use<>> {
    let ticket = known.state()?.ticket()?;
    Some(
        view! { <a class="button bench quiet" href=format!("/ticket/{ticket}")>{words::work::its_ticket()}</a> },
    )
}

/// The job's id and its state.
fn state_of(known: &JobLife) -> Option<(SubjectId, &JobState)> {
    Some((known.job, known.state()?))
}
