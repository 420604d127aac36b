//! The work on one job: what is left, what holds it, what was done.

mod add;
mod cement;
mod done;
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
use super::camera::Back;
use super::job::{JobLife, makes_good, pair_head, use_job};
use super::with_it::with_it;
use crate::parts::{Toggle, UndoLast, UnfoldedNote};
use crate::selection::{UndoScope, use_selection};
use crate::session::use_session;

use add::AddWork;
use done::DoneSteps;
use holds::Holds;
use notes::Notes;
use remaining::Remaining;

/// The job in the address; changes only when an entry about it or its pair does.
type WorkJob = Memo<Option<JobLife>>;

/// What is left of a job, and everything that can be done about it.
#[component]
pub fn Work() -> impl IntoView {
    UnfoldedNote::provide();
    let found = use_job();
    let missing = move || matches!(found.get(), Some(None));
    let known: WorkJob = Memo::new(move |_| found.get().flatten());
    let there = Memo::new(move |_| known.with(Option::is_some));
    let of = Signal::derive(move || known.with(|known| known.as_ref().map(|known| UndoScope::Of(known.job))));
    view! {
        <Show when=missing><h1>{words::work::screen_name()}</h1> <p>{words::work::no_such_job()}</p></Show>
        <Show when=move || there.get()>
            <div class="work" data-ready="work">
                {move || known.get().map(|found| pair_head(words::work::screen_name(), &found))}
                {move || known.get().and_then(|found| Some(makes_good(found.state()?, &found.life)))}
                {move || known.get().and_then(|found| Some(with_it(found.state()?, &found.life)))}
                <Holds known/>
                <Remaining known/>
                <AddWork known/>
                <DoneSteps known/>
                <MeasuredSoFar known/>
                <Notes known/>
                <First known/>
                {move || known.get().and_then(|found| ticket_link(&found))}
                <div class="work-bar"><UndoLast of/> <Ways known/></div>
            </div>
        </Show>
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

/// What was measured and calculated on this job, and a form to note the thickness of a part.
#[component]
fn MeasuredSoFar(known: WorkJob) -> impl IntoView {
    move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        Some(view! {
            <section class="card" aria-label=words::work::measured()>
                <h2>{words::work::measured()}</h2>
                {measured(job, &state.measured)}
                <a class="button quiet" href=format!("/reckon/{job}/wear")>{words::work::how_thick_still()}</a>
            </section>
        })
    }
}

/// Links to other screens about this job.
#[component]
fn Ways(known: WorkJob) -> impl IntoView {
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    let way = move |to: &'static str, label: &'static str| {
        let href = move || job.get().map(|job| format!("/{to}/{job}"));
        view! { <a class="button bench" href=href>{label}</a> }
    };
    view! {
        <div class="ways">
            <a class="button bench" href=move || job.get().map(|job| Back::Work.camera(job, None, None))>{words::work::camera()}</a>
            {way("open", words::open_up::screen_name())} {way("ask", words::work::ask())} {way("pickup", words::work::pickup())}
        </div>
    }
}

/// A link to the ticket.
fn ticket_link(known: &JobLife) -> Option<impl IntoView + use<>> {
    let ticket = known.state()?.ticket()?;
    Some(
        view! { <p><a class="button quiet" href=format!("/ticket/{ticket}")>{words::work::its_ticket()}</a></p> },
    )
}

/// The job's id and its state.
fn state_of(known: &JobLife) -> Option<(SubjectId, &JobState)> {
    Some((known.job, known.state()?))
}
