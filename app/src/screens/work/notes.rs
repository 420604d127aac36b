//! Notes about a job, written or spoken, and what is not quite a match.

mod not_quite;

use leptos::prelude::*;

use super::{WorkJob, state_of};
use crate::parts::{NoteForm, note_list};
use app_core::commands::notes::{NoteTarget, on_job_alone};
use not_quite::NotQuite;

/// The notes on the job so far, and a field for the next one. Notes on a step or a finding are shown there.
#[component]
pub fn Notes(known: WorkJob) -> impl IntoView {
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    let so_far = move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        note_list(
            on_job_alone(state).collect(),
            job,
            words::work::notes().to_owned(),
        )
    };
    // Another job in the address gets new forms: what is not finished belongs to one job.
    let form = move || {
        job.get().map(|job| {
            view! { <NoteForm on=NoteTarget::job(job) label=words::work::a_word_about_it() keep=words::work::keep_the_note()/> }
        })
    };
    view! {
        <section class="card" aria-label=words::work::notes()>
            <h2>{words::work::notes()}</h2>
            {so_far}
            {form}
        </section>
        {move || job.get().map(|job| view! { <NotQuite known job/> })}
    }
}
